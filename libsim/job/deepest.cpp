#include <lowspot/job/deepest.hpp>

#include <algorithm>

#include <lowspot/site/combine.hpp>

namespace lowspot::job {

double deepest_pit(const site::Design& design) {
  double deepest = 0;
  for (const site::Outlet& outlet : design.outlets)
    if ((outlet.kind == "dry well" || outlet.kind == "pump") && !site::stands_already(design, outlet.name))
      deepest = std::max(deepest, outlet.well.depth);
  return deepest;
}

double deepest_dug(const CutSheet& sheet, const site::Design& design) {
  double deepest = deepest_pit(design);
  for (const CutRun& run : sheet.runs) deepest = std::max(deepest, run.deepest);
  return deepest;
}

} // namespace lowspot::job
