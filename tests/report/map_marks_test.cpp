#include "catch.hpp"

#include <lowspot/report/map_marks.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

TEST_CASE("each sign leaves ink where it stands and none beside it") {
  const auto drawn = [](const Drawing& drawing) { return sample::decode(png({60, 60}, 1, true, drawing)); };
  const auto number = drawn([](cairo_t* context) { draw_number(context, {30, 30}, 12); });
  CHECK(number.inked(25, 25, 35, 35) > 0.5);
  CHECK(number.inked(0, 0, 20, 60) == 0);
  const auto spill = drawn([](cairo_t* context) { draw_spill(context, {30, 30}); });
  CHECK(spill.inked(24, 24, 36, 36) > 0.1);
  CHECK(spill.inked(0, 0, 22, 60) == 0);
  const auto arrow = drawn([](cairo_t* context) { draw_small_arrow(context, {20, 30}, 0, 15); });
  CHECK(arrow.inked(20, 28, 36, 32) > 0.1);
  CHECK(arrow.inked(0, 0, 18, 60) == 0);
  const auto route = drawn([](cairo_t* context) {
    draw_route(context, MapView{{60, 60, 1, 0, 0}, 0, 0, 1}, {{10, 30}, {50, 30}});
  });
  CHECK(route.inked(10, 29, 50, 31) > 0.5);
  CHECK(route.inked(0, 0, 60, 20) == 0);
}
