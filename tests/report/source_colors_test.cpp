#include "catch.hpp"

#include <cmath>

#include <lowspot/report/source_colors.hpp>

using namespace lowspot;
using namespace lowspot::report;

namespace {
// Distance of two colours for an eye without the red-green sense: lightness and the blue-yellow part remain
// (a plain dichromat in a linear opponent space).
double weak_distance(const Rgb& a, const Rgb& b) {
  const auto opponent = [](const Rgb& c) { return 0.5 * (c.r + c.g) - c.b; };
  return std::hypot(lightness(a) - lightness(b), 0.5 * (opponent(a) - opponent(b)));
}
} // namespace

TEST_CASE("sources of a yard are told apart also without a sense of red and green") {
  results::SourceShares shares;
  for (const char* kind :
       {"roof", "roof", "inflow", "leak", "from below", "drain", "rain", "rain", "rain", "rain"})
    shares.sources.push_back({kind, kind});
  const std::vector<Rgb> colors = source_colors(shares);
  REQUIRE(colors.size() == shares.sources.size());
  for (std::size_t a = 0; a < colors.size(); ++a)
    for (std::size_t b = 0; b < a; ++b) {
      CAPTURE(a, b);
      CHECK(weak_distance(colors[a], colors[b]) > 0.06);
    }
}

TEST_CASE("ink stands out from what it is written on") {
  for (const double light : {0.1, 0.3, 0.5, 0.6, 0.65, 0.8, 0.95}) {
    const Rgb color = rgb({light, 0.1, 200});
    CHECK(std::abs(lightness(ink_on(color)) - lightness(color)) > 0.35);
  }
}
