#include "catch.hpp"

#include <cstdlib>

#include <lowspot/report/map_furniture.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

TEST_CASE("a scale bar has a round length and fits") {
  png({300, 30}, 1, true, [](cairo_t* context) {
    // 10 points a foot: 10 ft is the longest round length that fits 110 points.
    CHECK(draw_scale_bar(context, 0, 0, 10 / 0.3048, units_for("ft"), 110) == Approx(100));
    CHECK(draw_scale_bar(context, 0, 0, 10, units_for("m"), 60) == Approx(50));
    CHECK(draw_scale_bar(context, 0, 0, 3, units_for("m"), 110) == Approx(60));
  });
}

TEST_CASE("a legend shows every class in its colour, inside the width it asks for") {
  const Scale scale = hours_scale(sample::comparison());
  const Size size{legend_width(scale) + 20, legend_height};
  const auto pixels =
      sample::decode(png(size, 1, true, [&](cairo_t* context) { draw_legend(context, 10, 0, scale); }));
  for (std::size_t k = 0; k < scale.colors.size(); ++k)
    for (const int shift : {0, 8, 16}) { // Cairo may round a channel the other way
      const auto drawn = static_cast<int>(pixels.at(10 + static_cast<int>(k) * 38 + 19, 16) >> shift & 255u);
      CHECK(std::abs(drawn - static_cast<int>(pixel(scale.colors[k]) >> shift & 255u)) <= 1);
    }
  CHECK(pixels.inked(pixels.width - 2, 0, pixels.width, pixels.height) == 0); // nothing is cut off
}

TEST_CASE("north turns with the site") {
  for (const double turn : {0.0, 1.5707963}) {
    const auto pixels =
        sample::decode(png({60, 60}, 2, true, [&](cairo_t* context) { draw_north(context, 30, 30, turn); }));
    const double up = pixels.inked(40, 0, 80, 40), right = pixels.inked(80, 40, 120, 80);
    CHECK((turn == 0 ? up > right : right > up));
  }
}
