#include "catch.hpp"
#include "designs.hpp"

#include <lowspot/job/pieces.hpp>

using namespace lowspot;

namespace {
int count_of(const site::Design& design, const std::string& name) {
  for (const auto& [piece, count] : job::pieces_of(design, true))
    if (piece == name) return count;
  return 0;
}
} // namespace

TEST_CASE("a turn asks for the elbow that is nearest to it") {
  const double degree = M_PI / 180;
  CHECK(job::elbow_for(5 * degree) == 0);
  CHECK_THAT(job::elbow_for(20 * degree), WithinAbs(22.5 * degree, 1e-12));
  CHECK_THAT(job::elbow_for(50 * degree), WithinAbs(45 * degree, 1e-12));
  CHECK_THAT(job::elbow_for(88 * degree), WithinAbs(90 * degree, 1e-12));
}

TEST_CASE("one straight run needs an end cap and an outlet") {
  const auto pieces = job::pieces_of(round_design(), true);
  REQUIRE(pieces.size() == 2);
  CHECK(count_of(round_design(), "end cap, 4 in") == 1);
  CHECK(count_of(round_design(), "outlet: daylight, 4 in") == 1);
}

TEST_CASE("legs from both sides meet a carrier in a tee; a slanting leg in a wye; sizes that differ need a "
          "reducer") {
  site::Design design = round_design();
  site::Run west = design.runs[0], east = design.runs[0], carrier = design.runs[0];
  west.name = "west", west.path = {{0, 0}, {5, 0}}, west.to = "tee";
  east.name = "east", east.path = {{10, 0}, {5, 0}}, east.to = "tee";
  carrier.path = {{5, 0}, {5, -10}}, carrier.from = "tee";
  design.runs = {west, east, carrier};
  design.fittings = {{"tee", {5, 0}}};
  CHECK(count_of(design, "tee, 4 in") == 1);
  CHECK(count_of(design, "end cap, 4 in") == 2);
  design.runs[0].path = {{5, 8}, {5, 0}};
  design.runs[1].path = {{9, 4}, {5, 0}};
  CHECK(count_of(design, "wye, 4 in") == 1);
  design.runs[0].pipe.name = "3 in corrugated, slotted";
  CHECK(count_of(design, "reducer, 4 in to 3 in") == 1);
}

TEST_CASE("flexible pipe takes gentle bends by itself, stiff pipe does not") {
  site::Design design = round_design();
  design.runs[0].path = {{0, 0}, {10, 0}, {20, 4}}; // a turn of 22 degrees
  CHECK(count_of(design, "elbow 22.5 deg, 4 in") == 0);
  design.runs[0].pipe.name = "4 in PVC sewer and drain, slotted";
  CHECK(count_of(design, "elbow 22.5 deg, 4 in") == 1);
}

TEST_CASE("a pipe whose name has no size is ordered in the units of the yard") {
  site::Design design = round_design();
  design.runs[0].pipe.name = "the old drain";
  const auto has = [&](bool feet, const std::string& wanted) {
    for (const auto& [piece, count] : job::pieces_of(design, feet))
      if (piece == wanted) return count == 1;
    return false;
  };
  CHECK(has(true, "end cap, 4 in"));
  CHECK(has(false, "end cap, 102 mm"));
}

TEST_CASE("where pipes of two sizes meet end to end the reducer is the coupling") {
  site::Design design = round_design();
  site::Run leg = design.runs[0], carrier = design.runs[0];
  leg.name = "leg", leg.path = {{0, 0}, {5, 0}}, leg.to = "joint";
  carrier.path = {{5, 0}, {10, 0}}, carrier.from = "joint";
  design.runs = {leg, carrier};
  design.fittings = {{"joint", {5, 0}}};
  CHECK(count_of(design, "coupling, 4 in") == 1);
  design.runs[0].pipe.name = "3 in corrugated, slotted";
  CHECK(count_of(design, "reducer, 4 in to 3 in") == 1);
  CHECK(count_of(design, "coupling, 4 in") == 0);
  design.runs[1].path = {{5, 0}, {5, 5}}; // round a corner the elbow has sockets of one size
  CHECK(count_of(design, "elbow 90 deg, 4 in") == 1);
  CHECK(count_of(design, "reducer, 4 in to 3 in") == 1);
}
