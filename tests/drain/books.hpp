// A drain under load whose water is counted.
#pragma once
#include <cmath>
#include <numeric>
#include <vector>

#include "layouts.hpp"

namespace lowspot::drain::testing {

// Loads a drain and keeps its books.
struct Books {
  explicit Books(const Layout& layout, double (*ground)(Point) = level_ground) : drain(layout, ground) {
    const std::size_t n = drain.stations().size();
    cap.assign(n, 0.0), soil.assign(n, 0.0), pipe.assign(n, 0.0), ponded.assign(n, 0.0);
    opened = drain.stored();
  }
  Outcome run(double dt) {
    for (const auto* list : {&cap, &soil, &pipe})
      for (double q : *list) {
        came_in += q * dt;
        handled += std::abs(q) * dt;
      }
    const Outcome outcome = drain.advance(dt, {cap, soil, pipe}, ponded);
    const double up = std::accumulate(outcome.to_surface.begin(), outcome.to_surface.end(), 0.0);
    const double out = std::accumulate(outcome.outlet_volume.begin(), outcome.outlet_volume.end(), 0.0);
    risen += up, left += out, lost += outcome.to_depth;
    return outcome;
  }
  double misfit() const { return opened + came_in - risen - left - lost - drain.stored(); }

  Drain drain;
  std::vector<double> cap, soil, pipe, ponded;
  double opened = 0, came_in = 0, handled = 0, risen = 0, left = 0, lost = 0;
};

} // namespace lowspot::drain::testing
