// A wetted block that spreads downwards when the supply falls below the conductivity: rectangular profile
// after Smith, Corradini and Melone (1993) and Ogden and Saghafian (1997), written so that water is conserved
// exactly.
#pragma once
#include <lowspot/soil/column.hpp>

namespace lowspot::soil {

// Capillary drive between two contents [m]: suction (Se^m - Sb^m) / (1 - Sb^m), m = 3 + 1 / pore_size_index.
double capillary_drive(const Parameters& soil, double content, double background);

// A block of content `content` over soil at `background`; it holds `water` [m] more than the background, so
// that it reaches down water / (content - background).
struct Block {
  double content = 0;    // m3/m3
  double background = 0; // m3/m3
  double water = 0;      // m
};

// The block after dt [s] with a steady supply at its top and a steady loss below [m/s] (K(background), or 0
// where the soil below drains on its own account): water grows by (supply - below) * dt exactly, and with Z
// the depth
//   d(content)/dt = (supply - K(content) - K_s drive / Z) / Z.
// One-stage rule of Rosenbrock with the exact slope, of second order; its steps are at most 0.15 of the local
// time scale, which keeps a step of hours within 0.2 % of the content above the background. Stops spreading
// once the block reaches `deepest` [m]. `supply` must not exceed the saturated conductivity. A block without
// water may only start at a supply > below.
Block redistribute(const Parameters& soil, Block block, double supply, double below, double deepest,
                   double dt);

} // namespace lowspot::soil
