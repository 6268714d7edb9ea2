#include <lowspot/job/bottom_steps.hpp>

#include <algorithm>

namespace lowspot::job {
namespace {

// Whether a run begins at what another leads to: a line that is crossed there follows the name.
bool begins_at(const CutRun& run, const std::string& name) {
  const std::string& note = run.stations.back().note;
  return note == name || note.rfind(name + ", crosses ", 0) == 0;
}

} // namespace

std::string bottom_steps(const CutSheet& sheet, RodUnit rod) {
  std::string text;
  for (const CutRun& upper : sheet.runs)
    for (const CutRun& lower : sheet.runs) {
      if (upper.to.empty() || upper.stations.empty() || lower.stations.empty()) continue;
      const CutStation &foot = upper.stations.front(), &head = lower.stations.back();
      if (!begins_at(lower, upper.to) || head.invert > foot.invert + 0.5 * finest_mark(rod)) continue;
      const double up = head.bottom - foot.bottom;
      if (up < finest_mark(rod)) continue;
      const auto feet = std::count_if(sheet.runs.begin(), sheet.runs.end(),
                                      [&](const CutRun& each) { return each.to == upper.to; });
      const auto heads = std::count_if(sheet.runs.begin(), sheet.runs.end(), [&](const CutRun& each) {
        return !each.stations.empty() && begins_at(each, upper.to);
      });
      text += (text.empty() ? "up " : ", ") + difference_text(up, rod) +
              (feet > 1 ? " from " + upper.name : "") + (heads > 1 ? " to " + lower.name : "") + " at " +
              upper.to;
    }
  return text;
}

} // namespace lowspot::job
