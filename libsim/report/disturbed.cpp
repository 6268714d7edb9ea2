#include <lowspot/report/disturbed.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/base/geometry.hpp>
#include <lowspot/job/reshaped.hpp>
#include <lowspot/site/combine.hpp>

namespace lowspot::report {
namespace {

// What the bed or crest itself covers.
double strip(const site::Regrade& work) {
  double along = 0;
  for (std::size_t k = 1; k < work.path.size(); ++k)
    along += std::hypot(work.path[k].x - work.path[k - 1].x, work.path[k].y - work.path[k - 1].y);
  return along * work.width;
}

// The sides of swales and berms reach as far as the ground lets them: the cells that are changed are counted.
double regraded(const SheetScene& scene) {
  const Mask cells = job::reshaped_cells(scene.site(), *scene.design, scene.ground);
  double strips = 0;
  for (const site::Regrade& work : scene.design->regrades)
    if (!site::stands_already(*scene.design, work.name)) strips += strip(work);
  return std::max(strips, static_cast<double>(std::count(cells.begin(), cells.end(), 1)) *
                              scene.ground.grid.cell_area());
}

} // namespace

double disturbed_area(const SheetScene& scene) {
  double sum = 0;
  if (scene.cut != nullptr) // of the new runs alone
    for (const job::CutRun& run : scene.cut->runs) sum += run.length * run.width;
  if (scene.design == nullptr) return sum;
  const site::Design& design = *scene.design;
  const auto is_new = [&](const auto& work) { return !site::stands_already(design, work.name); };
  for (const site::Outlet& work : design.outlets)
    if (is_new(work)) sum += work.well.plan;
  for (const site::Inlet& work : design.inlets)
    if (is_new(work)) sum += work.grate.width * work.grate.length;
  for (const site::Channel& work : design.channels)
    if (is_new(work)) sum += length(work.path) * work.width;
  for (const site::Basin& work : design.basins)
    if (is_new(work)) sum += area(work.outline);
  for (const site::Amend& work : design.amends)
    if (is_new(work)) sum += area(work.outline);
  return sum + regraded(scene);
}

} // namespace lowspot::report
