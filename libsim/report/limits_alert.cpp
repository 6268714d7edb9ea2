#include <lowspot/report/limits_alert.hpp>

#include <algorithm>

#include <lowspot/report/html.hpp>
#include <lowspot/study/limits_not_kept.hpp>

namespace lowspot::report {
namespace {

constexpr std::size_t most_on_a_sheet = 4, most_letters = 50;

std::vector<results::CheckRecord> of_scene(const SheetScene& scene) {
  if (scene.built == nullptr) return {};
  return study::limits_not_kept(scene.comparison(), *scene.built);
}

// As many whole clauses as fit, where they are much of what fits; else cut between words.
std::string clauses(const std::string& text, std::size_t letters) {
  if (text.size() <= letters) return text;
  // What stands in brackets is left out whole: half of it would be closed by what follows.
  const std::size_t open = text.find(" ("), close = text.find(')', open);
  if (open != std::string::npos && open <= letters && close >= letters && 2 * open >= letters)
    return text.substr(0, open);
  const std::size_t comma = text.find_last_of(",;", letters), semicolon = text.rfind(';', letters);
  if (comma != std::string::npos && 3 * comma >= 2 * letters) return text.substr(0, comma);
  // What follows a semicolon is another matter; what follows a comma may be the other half of a figure.
  if (semicolon != std::string::npos && 2 * semicolon >= letters) return text.substr(0, semicolon);
  return short_name(text, letters);
}

} // namespace

std::string limits_alert(const std::vector<results::CheckRecord>& not_kept, std::size_t most,
                         std::size_t letters, const std::string& page) {
  if (not_kept.empty()) return "";
  std::vector<std::string> items;
  for (const results::CheckRecord& check : not_kept) {
    std::string text = short_name(study::limit_name(check), 50);
    if (!check.found.empty()) text += ": " + clauses(check.found, letters);
    if (!check.limit.empty()) text += " (" + short_name(check.limit, 40) + ")";
    items.push_back(text);
  }
  std::string all;
  for (const std::string& item : at_most(std::move(items), most, page))
    all += (all.empty() ? "" : "; ") + item;
  return "<p class=\"alert\"><b>" +
         escape(not_kept.size() == 1
                    ? std::string("1 limit is not kept by this design:")
                    : std::to_string(not_kept.size()) + " limits are not kept by this design:") +
         "</b> " + escape(all) + ".</p>\n";
}

std::string limits_alert(const SheetScene& scene) {
  return limits_alert(of_scene(scene), most_on_a_sheet, most_letters, "report.html");
}

std::size_t limits_lines(const SheetScene& scene) {
  const std::size_t count = of_scene(scene).size();
  return std::min(count, most_on_a_sheet);
}

} // namespace lowspot::report
