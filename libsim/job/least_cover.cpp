#include <lowspot/job/least_cover.hpp>

#include <algorithm>

namespace lowspot::job {

double cover(const CutRun& run, const CutStation& station) {
  const double wall = 0.5 * std::max(0.0, run.outside_diameter - run.inside_diameter);
  return station.ground - station.invert - run.inside_diameter - wall;
}

const CutStation* least_covered(const CutRun& run, double left_out) {
  constexpr double round_off = 1e-9; // m
  const CutStation* least = nullptr;
  for (const CutStation& station : run.stations)
    if (run.length - station.distance >= left_out - round_off &&
        (!least || cover(run, station) < cover(run, *least)))
      least = &station;
  return least;
}

} // namespace lowspot::job
