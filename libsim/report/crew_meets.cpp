#include <lowspot/report/crew_meets.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/job/leaders.hpp>
#include <lowspot/site/combine.hpp>
#include <lowspot/site/crossings.hpp>
#include <lowspot/study/limits_not_kept.hpp>

namespace lowspot::report {
namespace {

constexpr std::size_t most_met = 3;

// Pipes, cables and roots that the site file knows of and the trench meets: where to dig by hand. What has
// room enough is said as well, since a hand dug strip is needed there all the same.
std::vector<std::string> meets(const SheetScene& scene) {
  std::vector<std::string> items;
  std::ptrdiff_t cables = 0;
  for (const results::CheckRecord& check : scene.built->checks) {
    const bool root = check.id == "roots" && check.outcome == results::CheckOutcome::fail;
    const bool utility = check.id == "utility_crossing" || check.id == "utility_beside";
    if ((!root && !utility) || check.about.empty() || check.found.empty()) continue;
    std::string found = check.found;
    const auto height = found.find(',');
    if (check.id == "utility_crossing" && std::isfinite(check.found_value) && height != std::string::npos)
      found.insert(height, " clear");
    const std::string text = short_name(check.name, 44) + ", " + short_name(check.about, 28) + ": " +
                             as_sentence(short_name(found, 150));
    items.insert(root ? items.end() : items.begin() + cables++, text); // what kills stands first
  }
  return at_most(items, most_met);
}

} // namespace

std::string on_the_way(const SheetScene& scene) {
  std::vector<std::string> items = meets(scene);
  for (const results::CheckRecord& end : study::buried_ends(*scene.built))
    items.push_back(short_name(end.about, 28) + ": " + end.found +
                    ". Shoot the ground beyond before digging: unless it falls away, nothing runs out.");
  for (const site::Run& run : scene.design->runs) {
    if (site::stands_already(*scene.design, run.name)) continue; // laid in an earlier stage
    for (const auto& [name, under] : site::crossed(scene.site(), run.path))
      items.push_back(short_name(run.name, 28) + " passes through " + short_name(name, 28) +
                      (under > 0 ? " for " + amount(under, scene.units().length) : " (a wall)"));
  }
  for (const job::Leader& leader : job::leaders_of(scene.site(), *scene.design))
    items.push_back("Pipe from " + short_name(leader.downspout, 24) + " to " + short_name(leader.to, 20) +
                    ", " + amount(leader.length, scene.units().length) +
                    " straight: not laid out here. Agree on its way and fall before digging.");
  items = at_most(items, 6, "the plan above and cutsheet.html");
  items.push_back("Utilities: UNKNOWN until located, whatever the site file says. Write down each crossing.");
  return list(items);
}

} // namespace lowspot::report
