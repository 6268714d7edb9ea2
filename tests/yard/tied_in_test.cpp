#include "catch.hpp"
#include "simple_yard.hpp"

#include <lowspot/yard/tied_in.hpp>

using namespace lowspot;

TEST_CASE("roof water is led into a drain by the site file or by the design, which has the last word") {
  SimpleYard yard = simple_yard(40, 20, 0.5, [](double, double) { return 10.0; });
  yard.site.buildings.resize(1);
  yard.site.buildings[0].downspouts.resize(2);
  site::Downspout &west = yard.site.buildings[0].downspouts[0], &east = yard.site.buildings[0].downspouts[1];
  west.name = "west", west.to = "run";
  east.name = "east", east.to = "ground";
  site::Design design = simple_drain(yard);
  const auto names = [&] {
    std::vector<std::string> list;
    for (const site::Downspout* spout : yard::tied_in(yard.site, design)) list.push_back(spout->name);
    return list;
  };
  CHECK(names() == std::vector<std::string>{"west"});
  design.downspouts = {{"west", "ground", 0}, {"east", "outlet", 0}};
  CHECK(names() == std::vector<std::string>{"east"});
  design.downspouts = {{"east", "a work of another design", 0}};
  west.to = "nowhere";
  CHECK(names().empty());
}
