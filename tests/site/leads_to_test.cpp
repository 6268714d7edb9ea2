#include "catch.hpp"

#include <lowspot/site/leads_to.hpp>

using namespace lowspot;

namespace {
site::Run run_of(const std::string& name, const std::string& from, const std::string& to) {
  site::Run run;
  run.name = name, run.from = from, run.to = to;
  return run;
}
site::Outlet outlet_of(const std::string& name) {
  site::Outlet outlet;
  outlet.name = name;
  return outlet;
}
} // namespace

TEST_CASE("what leads to a place: ways of ways, and free ends are no place") {
  const std::vector<site::Way> ways = {{"leg", "tee"}, {"tee", "main"}, {"main", "fence"},
                                       {"lost", ""},   {"", "main"},    {"other", "curb"}};
  CHECK(site::all_that_lead_to(ways, "fence") == std::set<std::string>{"fence", "main", "tee", "leg"});
  CHECK(site::all_that_lead_to(ways, "curb") == std::set<std::string>{"curb", "other"});
}

TEST_CASE("of a design: legs by their fitting, grates and channels; a run may lead to another by its name") {
  site::Design design;
  design.runs = {run_of("leg", "", "tee"), run_of("main", "tee", "fence"), run_of("side", "box", "main"),
                 run_of("apart", "", "curb")};
  design.outlets = {outlet_of("fence"), outlet_of("curb")};
  design.inlets.resize(1);
  design.inlets[0].name = "grate", design.inlets[0].to = "tee";
  design.channels.resize(1);
  design.channels[0].name = "gutter", design.channels[0].to = "grate";
  CHECK(site::all_that_lead_to(design, "fence") ==
        std::set<std::string>{"fence", "main", "tee", "leg", "side", "box", "grate", "gutter"});
  CHECK(site::all_that_lead_to(design, "curb") == std::set<std::string>{"curb", "apart"});
}

TEST_CASE("the outlets that a run comes to, two where its way parts") {
  site::Design design;
  design.runs = {run_of("leg", "", "tee"), run_of("left", "tee", "fence"), run_of("right", "tee", "curb")};
  design.outlets = {outlet_of("fence"), outlet_of("curb")};
  CHECK(site::outlets_reached(design, design.runs[0]).size() == 2);
  REQUIRE(site::outlets_reached(design, design.runs[2]).size() == 1);
  CHECK(site::outlets_reached(design, design.runs[2])[0] == &design.outlets[1]);
  CHECK(site::outlets_reached(design, run_of("lost", "", "nowhere")).empty());
}
