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
    // All of a plane is worked, where it meets the old ground as well: the cells whose centre lies in it,
    // which are as many as its area holds. Those that it takes up in part are moved, too.
    const bool plane = work.kind == "plane";
    const Mask inside = plane ? terrain::centres_inside(as_is.grid, work.outline) : Mask();
    for (std::size_t c = 0; c < cells.size() && !stands; ++c) {
      const bool moved = std::abs(after.elevation[c] - before.elevation[c]) > least_change;
      if (as_is.active[c] && (plane ? inside[c] != 0 : moved)) cells[c] = 1;
    }
    before = std::move(after);
  }
  return cells;
}

} // namespace lowspot::job
