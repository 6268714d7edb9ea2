// One hydraulic step over the moving parts of the grid.
#pragma once
#include <span>
#include <vector>

#include <lowspot/surface/kernel.hpp>
#include <lowspot/surface/tiles.hpp>
#include <lowspot/surface/workspace.hpp>

namespace lowspot::surface {

class Crew;
class Undo;

// What a step changes besides the workspace, whose q_x and q_y hold the discharges before the step and after.
struct Water {
  std::vector<double>& depth;    // m
  std::span<double> taken;       // m, added to
  std::vector<double>& left;     // m3 through each open face, added to
  std::vector<double>& crossed;  // m3 over each of Workspace::crossings, added to
  Undo* undo = nullptr;          // where wanted: keeps what it takes to make the steps again
  PassedWater* passed = nullptr; // where wanted: what passes is added in x_next and y_next
};

// The longest stable step [s] for the water as it stands, by the clamped celerity.
double stable_step(const Terrain& terrain, const Options& options, const Workspace& work);

// The numbers of a group of steps of dt [s] each. The largest celerity and
// depth are gathered anew from here on.
StepNumbers begin_steps(const Terrain& terrain, const Options& options, double dt, Workspace& work);

// `count` steps. A step is one sweep from south to north that touches each row while it is in cache: faces,
// open edges, limits, then volumes. The next step follows three rows behind, so that what does not fit into
// the cache is fetched once for all of them. Discharges before the step are read only, so that the order of
// cells does not matter. With a crew, each thread makes some of the rows. The answer is that of as many
// single steps by one thread, to the last bit.
void hydraulic_steps(const Grid& grid, const StepNumbers& numbers, int count, const Tiles& tiles,
                     Workspace& work, const Water& water, Crew* crew = nullptr);

} // namespace lowspot::surface
