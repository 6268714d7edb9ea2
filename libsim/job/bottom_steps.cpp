#include <lowspot/job/bottom_steps.hpp>

namespace lowspot::job {

std::string bottom_steps(const CutSheet& sheet, RodUnit rod) {
  std::string text;
  for (const CutRun& upper : sheet.runs)
    for (const CutRun& lower : sheet.runs) {
      if (upper.to.empty() || upper.stations.empty() || lower.stations.empty()) continue;
      const CutStation &foot = upper.stations.front(), &head = lower.stations.back();
      // A line that is crossed there follows the name.
      const bool meets = head.note == upper.to || head.note.rfind(upper.to + ", crosses ", 0) == 0;
      if (!meets || head.invert > foot.invert + 0.5 * finest_mark(rod)) continue;
      const double up = head.bottom - foot.bottom;
      if (up < finest_mark(rod)) continue;
      text += (text.empty() ? "up " : ", ") + difference_text(up, rod) + " at " + upper.to;
    }
  return text;
}

} // namespace lowspot::job
