#include <lowspot/study/limits_not_kept.hpp>

#include <algorithm>

#include <lowspot/checks/seriousness.hpp>

namespace lowspot::study {
using results::CheckRecord;

std::vector<CheckRecord> limits_not_kept(const std::vector<CheckRecord>& before,
                                         const std::vector<CheckRecord>& after) {
  std::vector<CheckRecord> list;
  for (const CheckRecord& check : after) {
    const bool as_before = std::any_of(before.begin(), before.end(), [&](const CheckRecord& other) {
      return other.id == check.id && other.about == check.about && other.found == check.found;
    });
    if (check.of_works && check.outcome == results::CheckOutcome::fail && !as_before) list.push_back(check);
  }
  std::stable_sort(list.begin(), list.end(), [](const CheckRecord& a, const CheckRecord& b) {
    return checks::seriousness(a.id) < checks::seriousness(b.id);
  });
  return list;
}

std::vector<CheckRecord> limits_not_kept(const results::Comparison& comparison,
                                         const results::DesignRecord& design) {
  return limits_not_kept(comparison.designs.front().checks, design.checks);
}

std::vector<results::CheckRecord> buried_ends(const results::DesignRecord& design) {
  std::vector<results::CheckRecord> ends;
  for (const results::CheckRecord& check : design.checks)
    if (check.id == "outlet_free" && check.outcome == results::CheckOutcome::unknown) ends.push_back(check);
  return ends;
}

std::string limit_name(const CheckRecord& check) {
  const bool said = check.about.empty() || check.name.find(check.about) != std::string::npos;
  return check.name + (said ? "" : " (" + check.about + ")");
}

std::string not_kept_words(const std::vector<CheckRecord>& not_kept) {
  if (not_kept.empty()) return "";
  const std::string name = limit_name(not_kept.front());
  return not_kept.size() == 1
             ? "1 limit is not kept: " + name
             : std::to_string(not_kept.size()) + " limits are not kept, the most serious: " + name;
}

} // namespace lowspot::study
