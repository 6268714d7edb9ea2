#include <lowspot/site/area_at.hpp>

#include "catch.hpp"

using namespace lowspot;
using namespace lowspot::site;

namespace {
Area area_of(const std::string& kind, double side) {
  Area area;
  area.kind = kind;
  area.outline = {{0, 0}, {side, 0}, {side, side}, {0, side}};
  return area;
}
} // namespace

TEST_CASE("the topmost area lies at a place, the lawn where none does") {
  Site site;
  site.lawn.kind = "lawn";
  site.areas = {area_of("mulched bed", 10), area_of("concrete", 4)};
  CHECK(area_at(site, {2, 2}).kind == "concrete");
  CHECK(area_at(site, {7, 7}).kind == "mulched bed");
  CHECK(&area_at(site, {12, 2}) == &site.lawn);
}

TEST_CASE("lawn is what has grass for a cover or for plants") {
  for (const char* kind : {"lawn", "dense lawn"}) CHECK(is_lawn(area_of(kind, 1)));
  for (const char* kind : {"mulched bed", "concrete", "gravel", "own figures"})
    CHECK_FALSE(is_lawn(area_of(kind, 1)));
  Area own = area_of("own figures", 1);
  own.plants = Plants{};
  own.plants->kind = "shrubs";
  CHECK_FALSE(is_lawn(own));
  own.plants->kind = "lawn grass in hot weather";
  CHECK(is_lawn(own));
}
