#include <lowspot/report/limits_alert.hpp>

#include <algorithm>

#include <lowspot/report/html.hpp>
#include <lowspot/study/limits_not_kept.hpp>

namespace lowspot::report {
namespace {

constexpr std::size_t most_on_a_sheet = 4, most_words = 130;

std::vector<results::CheckRecord> of_scene(const SheetScene& scene) {
  if (scene.built == nullptr) return {};
  return study::limits_not_kept(scene.comparison(), *scene.built);
}

} // namespace

std::string limits_alert(const std::vector<results::CheckRecord>& not_kept, std::size_t most,
                         const std::string& page) {
  if (not_kept.empty()) return "";
  std::vector<std::string> items;
  for (const results::CheckRecord& check : not_kept) {
    std::string text = short_name(study::limit_name(check), 60);
    if (!check.found.empty()) text += ": " + short_name(check.found, most_words);
    if (!check.limit.empty()) text += "; limit " + short_name(check.limit, 60);
    items.push_back(as_sentence(text));
  }
  const std::string head =
      not_kept.size() == 1
          ? "1 limit of codes and practice is not kept by this design:"
          : std::to_string(not_kept.size()) + " limits of codes and practice are not kept by this design:";
  return "<div class=\"alert\"><b>" + escape(head) + "</b>" + list(at_most(items, most, page)) + "</div>\n";
}

std::string limits_alert(const SheetScene& scene) {
  return limits_alert(of_scene(scene), most_on_a_sheet);
}

std::size_t limits_lines(const SheetScene& scene) {
  const std::size_t count = of_scene(scene).size();
  return count == 0 ? 0 : 1 + std::min(count, most_on_a_sheet);
}

} // namespace lowspot::report
