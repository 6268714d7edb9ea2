#include "catch.hpp"

#include <lowspot/site/run_out.hpp>

using namespace lowspot;

TEST_CASE("a pipe runs out of the ground before a free end alone, over half of itself at most") {
  site::Site site;
  site.reach.run_out = 6;
  site::Design design;
  design.outlets.resize(1);
  design.outlets[0].name = "end";
  site::Run run;
  run.path = {{0, 0}, {30, 0}};
  run.to = "end";
  for (const std::string kind : {"daylight", "submerged"}) {
    design.outlets[0].kind = kind;
    CHECK(site::run_out(site, design, run) == 6);
  }
  run.path[1].x = 8;
  CHECK(site::run_out(site, design, run) == 4);
  for (const std::string kind : {"pop-up", "dry well", "pump"}) {
    design.outlets[0].kind = kind;
    CHECK(site::run_out(site, design, run) == 0);
  }
  design.outlets[0].kind = "daylight";
  run.to = "tee";
  CHECK(site::run_out(site, design, run) == 0);
}
