// Which ends of runs meet: at fittings, at outlets, or foot to head.
#pragma once
#include <vector>

#include <lowspot/drain/layout.hpp>

namespace lowspot::drain {

constexpr int no_place = -1;      // a free end
constexpr int unknown_place = -2; // a name that is neither a fitting nor an outlet

// The places at the two ends of a run.
struct RunEnds {
  int head = no_place; // number of a place, no_place or unknown_place
  int foot = no_place; // likewise
};
// Places are numbered: fittings first, then outlets, then points where a run's foot meets heads without a
// name.
struct Connections {
  std::vector<RunEnds> runs; // one a run
  int places = 0;            // how many there are
};

// An empty `from` is a free end. An empty `to` joins what lies within 5 cm of the foot: a fitting, an outlet
// or the free head of another run.
Connections connect(const Layout& layout);

// Invert of a run at its head and at its foot [m].
double head_invert(const Run& run);
double foot_invert(const Run& run);

} // namespace lowspot::drain
