#include <lowspot/job/least_cover.hpp>

#include "catch.hpp"
#include "designs.hpp"

using namespace lowspot;

TEST_CASE("cover goes to the outside of the pipe; the end that runs out of the ground is not looked at") {
  job::CutRun run;
  run.inside_diameter = 0.10, run.outside_diameter = 0.12, run.length = 4;
  for (const double up : {0.0, 1.0, 2.0, 4.0}) { // shallower towards the foot
    job::CutStation station;
    station.distance = 4 - up, station.invert = 1, station.ground = 1.2 + 0.1 * up;
    run.stations.push_back(station);
  }
  CHECK(job::cover(run, run.stations[2]) == Approx(1.4 - 1.11));
  CHECK(job::least_covered(run, 0) == &run.stations[0]);
  CHECK(job::least_covered(run, 1.5) == &run.stations[2]);
  CHECK(job::least_covered(run, 2) == &run.stations[2]); // just there
  CHECK(job::least_covered(run, 5) == nullptr);
}
