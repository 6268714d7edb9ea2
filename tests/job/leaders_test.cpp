#include "catch.hpp"
#include "designs.hpp"

#include <lowspot/job/leaders.hpp>
#include <lowspot/job/takeoff.hpp>

using namespace lowspot;

namespace {
// A house whose downspouts come down 6 ft and half a foot from the drain, and one that runs onto the ground.
SimpleYard yard_with_house() {
  SimpleYard yard = level_yard();
  site::Building house;
  house.name = "house";
  house.outline = {
      {40 * foot, 16 * foot}, {80 * foot, 16 * foot}, {80 * foot, 20 * foot}, {40 * foot, 20 * foot}};
  house.downspouts = {{"far", {40 * foot, 16 * foot}, 20, "main"},
                      {"near", {80 * foot, 10.5 * foot}, 20, "ground"},
                      {"other", {60 * foot, 16 * foot}, 20, "ground"}};
  yard.site.buildings = {house};
  return yard;
}
} // namespace

TEST_CASE("a downspout far from the run that takes its water needs a pipe, one beside it does not") {
  SimpleYard yard = yard_with_house();
  site::Design design = round_design();
  design.downspouts = {{"near", "main"}};
  const auto list = job::leaders_of(yard.site, design);
  REQUIRE(list.size() == 1);
  CHECK(list[0].downspout == "far");
  CHECK(list[0].to == "main");
  CHECK(list[0].size == "4 in");
  CHECK_THAT(list[0].length, WithinRel(6 * foot, 1e-9));
  design.downspouts = {{"far", "ground"}, {"other", "fence"}};
  const auto outlet = job::leaders_of(yard.site, design);
  REQUIRE(outlet.size() == 1);
  CHECK_THAT(outlet[0].length, WithinRel(std::hypot(50.0, 6.0) * foot, 1e-9));
  CHECK(outlet[0].size == "4 in");
}

TEST_CASE("the pipe of a far downspout is ordered, and the list says that nobody drew its way") {
  SimpleYard yard = yard_with_house();
  yard.site.ordering.pipe_waste = 0.1;
  const site::Design design = round_design();
  yard.site.designs = {design};
  const job::Takeoff takeoff = job::take_off(yard.site, design, yard.ground);
  const auto line =
      std::find_if(takeoff.lines.begin(), takeoff.lines.end(), [](const job::TakeoffLine& each) {
        return each.item == "leader pipe of downspouts, 4 in";
      });
  REQUIRE(line != takeoff.lines.end());
  CHECK(line->group == "pipe");
  CHECK_THAT(line->ordered, WithinRel(6.6 * foot, 1e-9));
  CHECK(std::any_of(takeoff.notes.begin(), takeoff.notes.end(), [](const std::string& note) {
    return note.find("'far' to 'main', 6 ft straight, is ordered") != std::string::npos ||
           note.find("'far' to 'main', 72 in straight, is ordered") != std::string::npos;
  }));
}

TEST_CASE("what an earlier stage laid is not ordered again") {
  SimpleYard yard = yard_with_house();
  yard.site.designs = {round_design()};
  site::Design later = round_design();
  later.name = "later";
  later.after = "round";
  later.standing = {"main", "fence"};
  CHECK(job::leaders_of(yard.site, later).empty());
  later.downspouts = {{"other", "main"}};
  const auto list = job::leaders_of(yard.site, later);
  REQUIRE(list.size() == 1);
  CHECK(list[0].downspout == "other");
}

TEST_CASE("a downspout that ends in pipe takes an adapter, whoever sends it there") {
  SimpleYard yard = yard_with_house();
  site::Design design = round_design();
  const std::string adapter = "downspout adapter, 4 in";
  CHECK(job::adapters_of(yard.site, design) ==
        std::vector<std::string>{adapter}); // by the building's own `to`
  design.downspouts = {{"near", "main"}, {"far", "ground"}};
  CHECK(job::adapters_of(yard.site, design) == std::vector<std::string>{adapter});
  site::Inlet box;
  box.name = "box";
  box.at = {80 * foot, 10 * foot};
  box.to = "main";
  design.inlets = {box};
  design.downspouts = {{"near", "box"}, {"far", "ground"}}; // over its grate
  CHECK(job::adapters_of(yard.site, design).empty());
  design.downspouts = {{"near", "ground"}, {"far", "box"}}; // through a pipe, whose size nobody gave
  CHECK(job::adapters_of(yard.site, design) == std::vector<std::string>{"downspout adapter"});
}

TEST_CASE("a later stage that sends a downspout into a run that stands orders its adapter") {
  SimpleYard yard = yard_with_house();
  yard.site.designs = {round_design()};
  site::Design later = round_design();
  later.name = "later";
  later.after = "round";
  later.standing = {"main", "fence"};
  yard.site.designs.push_back(later);
  const auto adapters = [&] {
    double count = 0;
    for (const job::TakeoffLine& line : job::take_off(yard.site, later, yard.ground).lines)
      if (line.item == "downspout adapter, 4 in") count += line.ordered;
    return count;
  };
  CHECK(adapters() == 0);
  later.downspouts = {{"near", "main"}};
  CHECK(adapters() == 1);
}

TEST_CASE("what joins a run between its ends takes a tee, at its head and at its foot none") {
  SimpleYard yard = yard_with_house();
  site::Design design = round_design();
  design.downspouts = {{"far", "ground"}};
  CHECK(job::tees_of(yard.site, design).empty());
  design.downspouts = {{"far", "main"}};
  const std::string tee = "tee, 4 in";
  CHECK(job::tees_of(yard.site, design) == std::vector<std::string>{tee});
  const site::Run& run = design.runs[0];
  site::Inlet middle, head;
  middle.name = "middle", middle.to = head.to = run.name, head.name = "head";
  middle.at = point_along(run.path, 0.5 * length(run.path));
  head.at = run.path.front();
  site::Channel gutter;
  gutter.name = "gutter", gutter.to = run.name;
  gutter.path = {{0, 0}, run.path.back()};
  design.inlets = {middle, head};
  design.channels = {gutter};
  CHECK(job::tees_of(yard.site, design) == std::vector<std::string>{tee, tee});
  design.standing = {"middle"};
  CHECK(job::tees_of(yard.site, design) == std::vector<std::string>{tee});
}

TEST_CASE("a slotted run whose head takes a downspout, a box or a gutter gets no end cap") {
  SimpleYard yard = yard_with_house();
  site::Design design = round_design();
  const site::Run& run = design.runs[0];
  yard.site.buildings[0].downspouts = {{"spout", {10 * foot, 16 * foot}, 20, "ground"}};
  REQUIRE(distance(run.path.front(), {10 * foot, 10 * foot}) < 1e-9);
  const auto caps = [&] {
    double count = 0;
    for (const job::TakeoffLine& line : job::take_off(yard.site, design, yard.ground).lines)
      if (line.item == "end cap, 4 in") count += line.ordered;
    return count;
  };
  CHECK(caps() == 1);
  design.downspouts = {{"spout", "main"}};
  CHECK(caps() == 0);
  yard.site.buildings[0].downspouts[0].at.x = 14 * foot; // a tee further down: the head stays closed
  CHECK(caps() == 1);
  design.downspouts.clear();
  site::Channel gutter;
  gutter.name = "gutter", gutter.to = "main", gutter.width = 4 * inch;
  gutter.path = {{10 * foot, 14 * foot}, {10 * foot, 11 * foot}};
  design.channels = {gutter};
  CHECK(job::heads_taken(yard.site, design) == std::vector<std::string>{"main"});
  design.channels.clear();
  site::Inlet box;
  box.name = "box", box.to = "main", box.at = {10.5 * foot, 10 * foot};
  design.inlets = {box};
  CHECK(job::heads_taken(yard.site, design) == std::vector<std::string>{"main"});
}
