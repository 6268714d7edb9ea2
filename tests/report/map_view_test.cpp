#include "catch.hpp"

#include <lowspot/report/map_view.hpp>
#include <lowspot/report/paint.hpp>

using namespace lowspot::report;

TEST_CASE("north is up and the scale is kept") {
  const MapView view{{10, 5, 2, 100, 200}, 7, 9, 3};
  CHECK(view.width() == 60);
  CHECK(view.height() == 30);
  CHECK(view.at({100, 210}).x == 7);
  CHECK(view.at({100, 210}).y == 9);
  CHECK(view.at({120, 200}).x == 67);
  CHECK(view.at({120, 200}).y == 39);
}

TEST_CASE("a closed trace comes back to its start") {
  png({10, 10}, 1, true, [](cairo_t* context) {
    const MapView view{{10, 10, 1, 0, 0}, 0, 0, 1};
    trace(context, view, {{1, 1}, {4, 1}, {4, 5}}, true);
    double x0 = 0, y0 = 0, x1 = 0, y1 = 0;
    cairo_path_extents(context, &x0, &y0, &x1, &y1);
    CHECK(x1 - x0 == Approx(3));
    CHECK(y1 - y0 == Approx(4));
    cairo_new_path(context);
  });
}
