#include "catch.hpp"

#include <cmath>
#include <limits>

#include <lowspot/terrain/holes.hpp>

using lowspot::terrain::fill_holes;

namespace {
constexpr double hole = std::numeric_limits<double>::quiet_NaN();
template <class Height>
std::vector<double> raster(int nx, int ny, Height height) {
  std::vector<double> z(static_cast<std::size_t>(nx) * ny);
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) z[static_cast<std::size_t>(j) * nx + i] = height(i, j);
  return z;
}
} // namespace

TEST_CASE("a hole in a plane is filled with the plane", "[holes]") {
  auto plane = [](int i, int j) { return 100 + 0.02 * i - 0.05 * j; };
  const int from = GENERATE(2, 30), to = GENERATE(33, 90);
  std::vector<double> z = raster(101, 95, [&](int i, int j) {
    return i >= from && i < to && j >= from && j < to - 1 ? hole : plane(i, j);
  });
  CHECK(fill_holes(z, 101, 95) == static_cast<std::size_t>(to - from) * (to - 1 - from));
  double worst = 0;
  for (int j = 0; j < 95; ++j)
    for (int i = 0; i < 101; ++i) worst = std::max(worst, std::abs(z[j * 101 + i] - plane(i, j)));
  CHECK(worst < 1e-6);
}

TEST_CASE("a filled value is the mean of its neighbours, so that there is no pit or peak in a hole",
          "[holes]") {
  std::vector<double> z = raster(40, 40, [](int i, int j) {
    const bool in = std::hypot(i - 19, j - 22) < 11 || (i > 30 && j < 8) || i == 0;
    return in ? hole : std::sin(0.3 * i) * std::cos(0.2 * j) - 3;
  });
  const std::vector<double> before = z;
  fill_holes(z, 40, 40);
  for (int j = 1; j < 39; ++j)
    for (int i = 1; i < 39; ++i) {
      const int c = j * 40 + i;
      if (!std::isnan(before[c])) {
        CHECK(z[c] == before[c]);
        continue;
      }
      CHECK_THAT(z[c], WithinAbs((z[c - 1] + z[c + 1] + z[c - 40] + z[c + 40]) / 4, 1e-8));
      CHECK(z[c] < -2);
      CHECK(z[c] > -4);
    }
}

TEST_CASE("holes at the border take the nearest rim; nothing known stays unknown", "[holes]") {
  std::vector<double> strip = raster(9, 3, [](int i, int) { return i < 3 ? 5.0 : hole; });
  CHECK(fill_holes(strip, 9, 3) == 18);
  for (double z : strip) CHECK_THAT(z, WithinAbs(5, 1e-6));
  std::vector<double> none(12, hole);
  CHECK(fill_holes(none, 4, 3) == 0);
  CHECK(std::isnan(none[5]));
  std::vector<double> all(12, 2.0);
  CHECK(fill_holes(all, 4, 3) == 0);
  std::vector<double> single = {hole, 4.0};
  CHECK(fill_holes(single, 2, 1) == 1);
  CHECK_THAT(single[0], WithinAbs(4, 1e-9));
}
