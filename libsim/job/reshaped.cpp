#include <lowspot/job/reshaped.hpp>

#include <cmath>

#include <lowspot/site/combine.hpp>
#include <lowspot/terrain/reshape.hpp>
#include <lowspot/terrain/yard_grid.hpp>

namespace lowspot::job {
namespace {

constexpr double least_change = 1e-3; // m: less is not dug

} // namespace

Mask reshaped_cells(const site::Site& site, const site::Design& design, const terrain::Ground& as_is) {
  Mask cells(as_is.grid.cells(), 0);
  if (design.regrades.empty()) return cells;
  // Works follow each other as they are listed: each changes the ground that those before it leave.
  terrain::Ground before = as_is;
  for (const site::Regrade& work : design.regrades) {
    site::Design alone;
    alone.regrades = {work};
    terrain::Ground after = terrain::reshape(site, before, alone);
    const bool stands = site::stands_already(design, work.name);
    // All of a plane is worked, where it meets the old ground as well.
    const Mask inside =
        work.kind == "plane" ? terrain::centres_inside(as_is.grid, work.outline) : Mask(cells.size(), 0);
    for (std::size_t c = 0; c < cells.size() && !stands; ++c)
      if (as_is.active[c] && (inside[c] || std::abs(after.elevation[c] - before.elevation[c]) > least_change))
        cells[c] = 1;
    before = std::move(after);
  }
  return cells;
}

} // namespace lowspot::job
