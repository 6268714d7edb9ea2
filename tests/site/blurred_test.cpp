#include <lowspot/site/blurred.hpp>

#include "catch.hpp"

using namespace lowspot;
using namespace lowspot::site;

TEST_CASE("cells wider than the narrowest area are told of, with its name and width") {
  Site site;
  site.units = "m";
  CHECK(blurred_words(site, 5).empty());
  const auto add = [&](const std::string& name, double width) {
    Area area;
    area.name = name;
    area.outline = {{0, 0}, {4, 0}, {4, width}, {0, width}};
    site.areas.push_back(area);
  };
  add("lawn", 3);
  add("bed", 0.5);
  CHECK(blurred_words(site, 0.5).empty());
  CHECK_THAT(blurred_words(site, 1), ContainsSubstring("wider than \"bed\" (500 mm across)"));
}
