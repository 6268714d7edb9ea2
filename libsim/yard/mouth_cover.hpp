// Which cells the openings of a drain to the ground lie on, and what they take from there.
#pragma once
#include <span>
#include <vector>

#include <lowspot/base/field.hpp>
#include <lowspot/drain/drain.hpp>
#include <lowspot/surface/flow.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::yard {

// One opening with its cells.
struct MouthCover {
  std::vector<int> cells;      // indices in the grid
  std::vector<double> shares;  // of the mouth, sum to 1
  std::vector<double> offered; // m3/s, over the step under way
  std::vector<double> taken;   // m3/s, over the step before
};

// Lays every mouth of a layout on the ground, in the order of drain::Drain::mouths(), and sets its rim (and
// the top of the box under it) at the ground of its cells. A grate is set at the lowest of the cells around
// its place that no wall and no step parts from it, under whose ground the pipe of its box still lies; a
// channel on the cells along it. Warns of a box whose pipe would come out of the ground all the same.
std::vector<MouthCover> settle_mouths(const terrain::Ground& ground, drain::Layout& layout,
                                      std::vector<std::string>& warnings);

// What each mouth could take over the next dt [s], added to `capacity` [m/s, one a cell]:
// drain::Drain::mouth_capacity() with what came to it in the step before. Where the ground falls away behind
// a grate, it also catches what runs onto it over its width. supply [m/s] is what arrives on each cell.
void offer_mouths(const drain::Drain& drain, const terrain::Ground& ground, const surface::Flow& flow,
                  std::span<const double> supply, double dt, std::vector<MouthCover>& mouths,
                  std::span<double> capacity);

// Whether water stands on a mouth that takes in, or went in during the step before.
bool mouths_are_wet(const drain::Drain& drain, std::span<const double> depth,
                    const std::vector<MouthCover>& mouths);

} // namespace lowspot::yard
