// What goes over the rim of a level pool: Manning's law over each face, and on the shallow way there.
#pragma once
#include <array>
#include <span>

#include <lowspot/surface/route_graph.hpp>

namespace lowspot::surface {

// A cell of a pool with faces over which it spills.
struct RimCell {
  int begin = 0, end = 0; // its faces in the list of the pool, by rising sill
  double sill = 0;        // the lowest of them [m above the datum]
  double lost = 0;        // share of the head over it that the way there took when it was last looked at
};

// Spill over the faces of one cell.
struct Spill {
  double flow = 0;  // m/s summed
  double slope = 0; // about how it changes with the level of the pool [1/s]
};

// Spill at a level of the pool above the sill of `cell` [m above the datum]. What goes over the faces of a
// cell comes to it in one stream, up the steepest way from the bottom, and that way takes a part of the head:
// over each face the square of the discharge is depth^(10/3) times the fall, by Manning's law. faces: of the
// cell, by rising sill, four at most; beyond: the level of the water behind each [m above the datum]; flows:
// of each [m/s], overwritten.
Spill spill_over(const RouteGraph& graph, RimCell& cell, std::span<const RimFace> faces,
                 std::span<const double> beyond, double level, std::span<double> flows);

} // namespace lowspot::surface
