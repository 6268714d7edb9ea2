#include <lowspot/terrain/reshape.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/site/wording.hpp>
#include <lowspot/terrain/plane_works.hpp>
#include <lowspot/terrain/swale.hpp>
#include <lowspot/terrain/yard_grid.hpp>

namespace lowspot::terrain {
namespace {

constexpr double berm_width = 0.3; // m, of the rim raised around a basin

Point centre(const Grid& grid, std::size_t cell) {
  return {grid.x(grid.column(cell)), grid.y(grid.row(cell))};
}

// Lowest ground on the cells just outside a shape but for some, and on those inside from which water leaves
// the yard [m].
double lowest_rim(const Ground& ground, const Mask& inside, const Mask& but, bool& at_open_edge) {
  const Grid& grid = ground.grid;
  double lowest = std::numeric_limits<double>::infinity();
  for (const EdgeFace& face : ground.edges) {
    if (!face.open || !inside[face.cell] || !ground.active[face.cell]) continue;
    at_open_edge = true;
    lowest = std::min(lowest, ground.elevation[face.cell]);
  }
  for (int j = 0; j < grid.ny; ++j)
    for (int i = 0; i < grid.nx; ++i) {
      const std::size_t cell = grid.index(i, j);
      if (inside[cell] || but[cell] || !ground.active[cell]) continue;
      const bool beside =
          (i > 0 && inside[grid.index(i - 1, j)]) || (i + 1 < grid.nx && inside[grid.index(i + 1, j)]) ||
          (j > 0 && inside[grid.index(i, j - 1)]) || (j + 1 < grid.ny && inside[grid.index(i, j + 1)]);
      if (beside) lowest = std::min(lowest, ground.elevation[cell]);
    }
  return lowest;
}

// Banks that meet before the bottom is reached leave less water than is meant.
void warn_of_narrow(const site::Site& site, const site::Basin& work, double overflow, double bottom,
                    Ground& ground) {
  const double held = overflow - bottom;
  if (held > 0.9 * work.depth) return;
  ground.warnings.push_back("basin '" + work.name + "': with sides of " + rounded(100 * work.side_slope, 3) +
                            " % from the ground at its outline its banks meet " +
                            rounded(std::max(0.0, held) / site.unit, 3) + " " + site.units +
                            " below the overflow, not " + rounded(work.depth / site.unit, 3) + " " +
                            site.units + "; make it wider uphill, or its sides steeper");
}

// `fed` are the cells of swales that fall into it: water stands in them as in the basin, up to their own
// banks.
void dig_basin(const site::Site& site, const site::Basin& work, const Mask& fed, Ground& ground) {
  const Mask inside = centres_inside(ground.grid, work.outline), none(inside.size(), 0);
  Mask with_fed = inside, outside_of_it = fed;
  for (std::size_t c = 0; c < inside.size(); ++c) {
    with_fed[c] = inside[c] || fed[c];
    outside_of_it[c] = fed[c] && !inside[c];
  }
  bool at_open_edge = false, of_swales = false;
  const double rim = lowest_rim(ground, inside, none, at_open_edge);
  const double holds = lowest_rim(ground, with_fed, none, of_swales); // without a berm
  const double banks_of_swales = lowest_rim(ground, outside_of_it, inside, of_swales);
  if (!std::isfinite(rim))
    throw InputError({site.file.string(), work.line, "basin '" + work.name + "'"},
                     "a basin without open ground around it", "ground on its rim",
                     "make it larger than a cell, and leave ground beside it");
  const double overflow = std::isfinite(work.overflow) ? work.overflow : rim;
  if (overflow < rim - 1e-6)
    throw InputError({site.file.string(), work.line, "basin '" + work.name + "'"},
                     "an overflow " + rounded((rim - overflow) / site.unit) + " " + site.units +
                         " below the lowest ground on its rim",
                     "an overflow at " + rounded(rim / site.unit, 6) + " or above",
                     "cut its way out with a swale, or raise `overflow`");
  Ground before = ground; // a bank beside a slab begins at the ground that the slab is set in, not on it
  for (std::size_t c = 0; c < ground.slab_thickness.size(); ++c)
    if (!inside[c] && ground.slab_thickness[c] > 0) before.elevation[c] = ground.natural_elevation[c];
  Polyline edge = work.outline;
  edge.push_back(edge.front());
  const double berm = std::max(berm_width, ground.grid.cell);
  const bool raised = overflow > holds + 1e-6;
  const bool dammed = raised && overflow > banks_of_swales + 1e-6; // they would run out at their sides
  double bottom = std::numeric_limits<double>::infinity();
  for (std::size_t c = 0; c < inside.size(); ++c) {
    if (!inside[c] || !ground.active[c]) continue;
    double along = 0;
    const double from_edge = distance_to(edge, centre(ground.grid, c), &along);
    double& z = ground.elevation[c];
    if (raised && from_edge < berm && (dammed || !fed[c])) {
      z = std::max(z, overflow); // the rim, so that water stands up to the overflow
      continue;
    }
    // Uphill the bank slopes inward from the ground as it stands at the outline, so that nothing is dug
    // beyond.
    const double bank = std::max(overflow, elevation_at(before, point_along(edge, along)));
    const double sloping = bank - work.side_slope * (from_edge - (raised ? berm : 0));
    z = std::min(z, std::max(overflow - work.depth, sloping));
    bottom = std::min(bottom, z);
  }
  warn_of_narrow(site, work, overflow, bottom, ground);
  constexpr double seen = 0.003; // m: as much earth as is told of
  if (!std::isfinite(work.overflow) && holds > rim + seen)
    ground.warnings.push_back(
        "basin '" + work.name +
        "': the lowest ground on its rim is the bed of the swale that leads into it, " +
        rounded((holds - rim) / site.unit, 3) + " " + site.units + " below the rest, and it is dug " +
        rounded(work.depth / site.unit, 3) + " " + site.units +
        " below that; write overflow = " + rounded(std::floor(1000 * holds / site.unit) / 1000, 9) +
        " to have the depth counted from where it runs over");
  if (dammed)
    ground.warnings.push_back(
        "basin '" + work.name +
        "': the berm that holds its overflow dams the swale that leads into it, whose banks are " +
        rounded((overflow - banks_of_swales) / site.unit, 3) + " " + site.units +
        " too low; lower the overflow, or lead the swale in higher up");
  if (at_open_edge && !raised)
    ground.warnings.push_back("basin '" + work.name +
                              "' reaches the open edge of the yard, over which it runs out; leave a strip of "
                              "ground between them");
}

// The cells of swales that end in a basin and fall to it.
Mask fed_by(const site::Design& design, const std::vector<Mask>& cut, const site::Basin& work,
            std::size_t cells) {
  Mask fed(cells, 0);
  for (std::size_t r = 0; r < cut.size(); ++r) {
    const site::Regrade& swale = design.regrades[r];
    if (swale.kind != "swale") continue;
    const Point3 &head = swale.path.front(), &foot = swale.path.back();
    if (!(foot.z < head.z) || !contains(work.outline, {foot.x, foot.y}) ||
        contains(work.outline, {head.x, head.y}))
      continue;
    for (std::size_t c = 0; c < fed.size(); ++c) fed[c] = fed[c] || cut[r][c];
  }
  return fed;
}

// Whether any of the yard's ground is amended by it.
bool amend_soil(const Polygon& outline, double factor, double porosity, double depth, Ground& ground) {
  const Mask inside = centres_inside(ground.grid, outline);
  bool any = false;
  for (std::size_t c = 0; c < inside.size(); ++c) {
    if (!inside[c]) continue;
    ground.amended[c] = static_cast<int>(ground.amendments.size());
    any = any || ground.active[c];
  }
  ground.amendments.push_back({factor, porosity, depth});
  return any;
}

// Levels of a datum other than the ground's, or in another unit, would dig a pit or heap a hill.
void refuse_far_from(const Field& before, const std::string& what, int line, const site::Site& site,
                     const Ground& ground) {
  constexpr double deepest = 3.048; // m, 10 ft: as for the invert of an outlet
  double farthest = 0;
  for (std::size_t c = 0; c < before.size(); ++c) {
    const double rise = ground.elevation[c] - before[c];
    if (std::abs(rise) > std::abs(farthest)) farthest = rise;
  }
  if (std::abs(farthest) <= deepest) return;
  throw InputError({site.file.string(), line, what},
                   "levels that lie " + rounded(std::abs(farthest) / site.unit) + " " + site.units +
                       (farthest < 0 ? " below" : " above") + " the ground as it is",
                   "levels within " + rounded(deepest / site.unit) + " " + site.units + " of it",
                   "write them as elevations of the same datum as the levels of the ground, in " +
                       site.units);
}

// What a piece of work moved: the difference to the ground before it, but for a swale or berm, of which the
// cells may be too wide; `drawn` [m3] is then what was reckoned.
void book(const std::string& name, const std::string& kind, const Field& before, Ground& ground,
          double drawn = 0) {
  Earthwork moved{name, kind, 0, 0};
  if (kind == "swale" || kind == "berm") {
    (kind == "swale" ? moved.cut : moved.fill) = drawn;
    ground.earthworks.push_back(moved);
    return;
  }
  for (std::size_t c = 0; c < before.size(); ++c) {
    const double rise = ground.elevation[c] - before[c];
    (rise > 0 ? moved.fill : moved.cut) += std::abs(rise) * ground.grid.cell_area();
  }
  ground.earthworks.push_back(moved);
}

} // namespace

bool changes_ground(const site::Design& design) {
  return !design.regrades.empty() || !design.amends.empty() || !design.basins.empty();
}

Ground reshape(const site::Site& site, const Ground& as_is, const site::Design& design) {
  Ground ground = as_is;
  ground.amended.assign(ground.grid.cells(), -1);
  Field before_planes; // the ground before the first of planes that follow each other
  std::size_t planes = 0;
  std::vector<Mask> cut(design.regrades.size(), Mask(ground.grid.cells(), 0)); // cells that each lowers
  for (std::size_t r = 0; r < design.regrades.size(); ++r) {
    const site::Regrade& work = design.regrades[r];
    const Field before = ground.elevation;
    planes = work.kind == "plane" ? planes + 1 : 0;
    if (planes == 1) before_planes = before;
    double drawn = 0;
    if (planes > 0)
      lay_planes(site, {&design.regrades[r + 1 - planes], planes}, before_planes, ground);
    else
      drawn = lay_along_path(site, work, ground);
    refuse_far_from(before, "regrade '" + work.name + "'", work.line, site, ground);
    book(work.name, work.kind, before, ground, drawn);
    for (std::size_t c = 0; c < before.size(); ++c) cut[r][c] = ground.elevation[c] < before[c] - 1e-9;
  }
  for (const site::Basin& work : design.basins) {
    const Field before = ground.elevation;
    dig_basin(site, work, fed_by(design, cut, work, before.size()), ground);
    refuse_far_from(before, "basin '" + work.name + "'", work.line, site, ground);
    book(work.name, "basin", before, ground);
    if (work.conductivity_factor != 1 || work.porosity_added > 0 || work.depth_added > 0)
      amend_soil(work.outline, work.conductivity_factor, work.porosity_added, work.depth_added, ground);
  }
  for (const site::Amend& work : design.amends)
    if (!amend_soil(work.outline, work.conductivity_factor, work.porosity_added, work.depth_added, ground))
      ground.warnings.push_back("amended soil '" + work.name +
                                "' changes nothing: it holds the middle of no cell of " +
                                site::written(ground.grid.cell, Dimension::length, site) +
                                " of the yard's ground; make it larger, or choose smaller cells");
  return ground;
}

Ground ground_of(const site::Site& site, const Ground& ground, const site::Design& design) {
  const bool done = !ground.amended.empty();
  return changes_ground(design) && !done ? reshape(site, ground, design) : ground;
}

} // namespace lowspot::terrain
