// A mound that spreads over a dry level base (Barenblatt 1952), in plan view.
#include <array>
#include <cmath>

#include "catch.hpp"
#include "figures.hpp"
#include "perched/zone.hpp"

using namespace zone;

namespace {

constexpr double conductivity = 4 / day, porosity = 0.10, scale = 1.341641;

double exact(double r, double t_days) {
  const double root = std::sqrt(4 * t_days / (2 * porosity));
  return std::max(0.0, (scale - r * r / (16 * root)) / root);
}

Zone mound(double dx, double width) {
  const int n = static_cast<int>(std::lround(width / dx)) | 1; // odd: a cell in the middle
  Zone zone(flat_layer(n, n, dx, 1.0, conductivity), porosity);
  zone.layer.grid.x0 = zone.layer.grid.y0 = -0.5 * n * dx;
  for (int j = 0; j < n; ++j)
    for (int i = 0; i < n; ++i)
      zone.saturated[zone.layer.grid.index(i, j)] =
          exact(std::hypot(zone.layer.grid.x(i), zone.layer.grid.y(j)), 0.25);
  return zone;
}

double at(const Zone& zone, double x, double y) {
  return zone.saturated[cell_at(zone.layer.grid, x, y)];
}

// Where the table passes a thickness along x, linear between centres.
double reach(const Zone& zone, double thickness) {
  const double dx = zone.layer.grid.cell;
  double x = 0;
  while (at(zone, x + dx, 0) > thickness) x += dx;
  return x + dx * (at(zone, x, 0) - thickness) / (at(zone, x, 0) - at(zone, x + dx, 0));
}

} // namespace

TEST_CASE("A spreading mound follows Barenblatt") {
  Zone zone = mound(0.5, 30.5);
  const double start = zone.water();
  const std::array<std::array<double, 6>, 4> expected = {
      {{0.5, 0.424264, 8.239069, 0.418014, 0.399264, 0.368014},
       {1, 0.300000, 9.797959, 0.296875, 0.287500, 0.271875},
       {2, 0.212132, 11.651803, 0.210570, 0.205882, 0.198070},
       {4, 0.150000, 13.856406, 0.149219, 0.146875, 0.142969}}};
  double time = 0.25;
  for (const auto& [end, top, edge, one, two, three] : expected) {
    while (time < end - 1e-9) {
      const double dt = std::min(0.005 * time, end - time);
      zone.advance(dt * day);
      time += dt;
    }
    CAPTURE(end);
    CHECK_THAT(at(zone, 0, 0), WithinRel(top, 0.005));
    figures::record("perched", "spreading mound (Barenblatt)", "height of its top, m", top, at(zone, 0, 0),
                    figures::share(0.005));
    CHECK_THAT(at(zone, 1, 0), WithinRel(one, 0.005));
    CHECK_THAT(at(zone, 2, 0), WithinRel(two, 0.005));
    figures::record("perched", "spreading mound (Barenblatt)", "height 2 m out, m", two, at(zone, 2, 0),
                    figures::share(0.005));
    CHECK_THAT(at(zone, 3, 0), WithinRel(three, 0.005));
    CHECK_THAT(reach(zone, 1e-3), WithinAbs(edge, 0.5));
    figures::record("perched", "spreading mound (Barenblatt)", "place of its edge, m", edge,
                    reach(zone, 1e-3), figures::amount(0.5));
    CHECK_THAT(zone.water(), WithinRel(start, 1e-9));
    for (const auto& [a, b] : std::initializer_list<std::pair<double, double>>{{3, 5}, {1, 7.5}}) {
      const double value = at(zone, a, b);
      for (double other : {at(zone, -a, b), at(zone, a, -b), at(zone, -a, -b), at(zone, b, a),
                           at(zone, -b, a), at(zone, b, -a), at(zone, -b, -a)})
        CHECK_THAT(other, WithinAbs(value, 1e-9));
    }
  }
}

TEST_CASE("The mound converges at second order inside and first order at its edge") {
  // Differences between grids with the same steps, so that the error in time cancels.
  std::array<double, 3> inside{}, all{};
  for (int level = 0; level < 3; ++level) {
    const double dx = 1.0 / (1 << level);
    Zone zone = mound(dx, 19);
    for (int step = 0; step < 50; ++step) zone.advance(0.005 * day);
    inside[level] = at(zone, 2, 0);
    for (double x = 0; x < 9; x += 1) all[level] += std::abs(at(zone, x, 0) - exact(x, 0.5));
  }
  const double order = std::log2(std::abs((inside[0] - inside[1]) / (inside[1] - inside[2])));
  CHECK(order > 1.7);
  figures::record("perched", "spreading mound (Barenblatt)", "order in dx, inside", order,
                  figures::at_least(1.7));
  CAPTURE(all);
  CHECK(all[0] > 1.8 * all[1]); // the worst of it lies at the edge
  CHECK(all[1] > 1.4 * all[2]); // where the steps in time begin to tell
}
