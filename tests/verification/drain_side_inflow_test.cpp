// Water that comes in through the openings of a pipe must be brought up to the speed of the flow: spatially
// varied flow, dy/dx = (S - Q2/K2 - 2 Q q / (g A2)) / (1 - Q2 T / (g A3)) with dQ/dx = q (Chow 1959, chapter
// 12), marched from the closed head by the method of Runge and Kutta.
#include <algorithm>
#include <cmath>
#include <vector>

#include <lowspot/drain/drain.hpp>
#include <lowspot/drain/orifice.hpp>
#include <lowspot/drain/pipe_section.hpp>

#include "catch.hpp"
#include "figures.hpp"

using namespace lowspot;
using namespace lowspot::drain;

namespace {

constexpr double diameter = 0.15, manning_n = 0.011, pipe_length = 5, foot = 10;
constexpr double openings = 5e-4; // m2 per m
constexpr double outside = 0.5;   // of the water in the trench over the pipe's invert, all along [m]
constexpr double bedding = 0.1;   // m

struct Water {
  double depth = 0, flow = 0; // m, m3/s
};

double inflow(double depth) {
  const Openings around{0, diameter, 0.61 * openings * std::sqrt(2 * gravity)};
  return openings_flow(around, outside, depth).q;
}

double froude2(const Water& water) {
  const double area = wetted_area(diameter, water.depth);
  return water.flow * water.flow * top_width(diameter, water.depth) / (gravity * area * area * area);
}

Water slope_of(double fall, const Water& water) {
  const double q = inflow(water.depth);
  const double area = wetted_area(diameter, water.depth);
  const double friction = std::pow(water.flow / conveyance(diameter, manning_n, water.depth), 2);
  const double speeding = 2 * water.flow * q / (gravity * area * area);
  return {(fall - friction - speeding) / (1 - froude2(water)), q};
}

// Depth and flow at equal distances from the head on, until the foot or until the water is all but critical.
std::vector<Water> march(double fall, double depth_at_head, int steps) {
  std::vector<Water> list = {{depth_at_head, 0}};
  const double dx = pipe_length / steps;
  for (int k = 0; k < steps && froude2(list.back()) < 0.98; ++k) {
    const Water at = list.back();
    const auto moved = [&](const Water& by, double share) {
      return Water{at.depth + share * dx * by.depth, at.flow + share * dx * by.flow};
    };
    const Water a = slope_of(fall, at), b = slope_of(fall, moved(a, 0.5));
    const Water c = slope_of(fall, moved(b, 0.5)), d = slope_of(fall, moved(c, 1));
    list.push_back({at.depth + dx / 6 * (a.depth + 2 * b.depth + 2 * c.depth + d.depth),
                    at.flow + dx / 6 * (a.flow + 2 * b.flow + 2 * c.flow + d.flow)});
  }
  return list;
}

Layout gathering(double fall, int cells) {
  Layout layout;
  Run run;
  run.name = "pipe";
  run.path = {{0, 0}, {pipe_length, 0}};
  run.inverts = {foot + fall * pipe_length, foot};
  run.pipe = {diameter, manning_n, openings, 0.61};
  run.trench_width = 1e5; // so wide that its level stays where it is
  run.stone = {1.0, 0, 0};
  run.cap = {1e-9, 0.1};
  run.bedding = bedding;
  run.to = "end";
  layout.runs = {run};
  layout.outlets = {{"end", OutletKind::daylight, {pipe_length, 0}}};
  layout.station_spacing = pipe_length / cells;
  return layout;
}

Drain steady(const Layout& layout) {
  Drain drain(layout, [](Point) { return foot + 5; });
  const std::size_t n = drain.stations().size();
  const std::vector<double> none(n, 0.0);
  std::vector<double> fill(n);
  for (std::size_t i = 0; i < n; ++i) fill[i] = (outside + bedding) * 1e5 * drain.stations()[i].length;
  drain.advance(1, {fill, none, none}, none);
  for (int k = 0; k < 300; ++k) drain.advance(2, {none, none, none}, none);
  return drain;
}

// Depth where a station lies.
double depth_at(const std::vector<Water>& exact, double distance) {
  const double at = distance / pipe_length * static_cast<double>(exact.size() - 1);
  const std::size_t k = std::min(static_cast<std::size_t>(at), exact.size() - 2);
  return exact[k].depth + (at - static_cast<double>(k)) * (exact[k + 1].depth - exact[k].depth);
}

// Largest error of the depths over the depth; they are written down where a case is named.
double error_of(const Drain& drain, const std::vector<Water>& exact, const char* written_as = nullptr) {
  double worst = 0;
  for (std::size_t i = 0; i < drain.stations().size(); ++i) {
    const Station& station = drain.stations()[i];
    const double depth = depth_at(exact, station.distance);
    const double computed = drain.pipe_level()[i] - station.invert;
    worst = std::max(worst, std::abs(computed / depth - 1));
    if (written_as)
      figures::record("drain", written_as, "depths along it, m", depth, computed, figures::share(0.01));
  }
  return worst;
}

constexpr int many = 20000;

} // namespace

TEST_CASE("a level or gently falling pipe under a known level at its foot gathers as spatially varied flow") {
  for (const double fall : {0.0, 0.004}) {
    const std::vector<Water> exact = march(fall, 0.11 - 0.6 * fall * pipe_length, many);
    REQUIRE(exact.size() == many + 1);
    const Water end = exact.back();
    const auto computed = [&](int cells) {
      Layout layout = gathering(fall, cells);
      layout.outlets[0].kind = OutletKind::submerged;
      layout.outlets[0].level = foot + end.depth;
      return steady(layout);
    };
    const Drain drain = computed(20);
    CHECK_THAT(drain.outlet_flow(0), WithinRel(end.flow, 2e-3));
    figures::record("drain", "pipe that gathers through its openings, level at its foot known", "flow, L/s",
                    end.flow * 1e3, drain.outlet_flow(0) * 1e3, figures::share(2e-3));
    const double fine =
        error_of(drain, exact, "pipe that gathers through its openings, level at its foot known");
    CHECK(fine < 0.01);
    const double order = std::log2(error_of(computed(5), exact) / fine) / 2;
    CHECK(order > 1);
    figures::record("drain", "pipe that gathers through its openings, level at its foot known",
                    "order in the length of a station", order, figures::at_least(1));
  }
}

TEST_CASE("a level or gently falling pipe with a free end gathers as spatially varied flow") {
  for (const double fall : {0.0, 0.004}) {
    // The depth at the head from which the water turns critical at the foot.
    double low = 0.02, high = 0.149;
    for (int k = 0; k < 50; ++k) {
      const double middle = 0.5 * (low + high);
      (march(fall, middle, 2000).size() < 2001 ? low : high) = middle;
    }
    const std::vector<Water> exact = march(fall, high, 2000);
    REQUIRE(exact.size() == 2001);
    const Drain drain = steady(gathering(fall, 20));
    CHECK_THAT(drain.outlet_flow(0), WithinRel(exact.back().flow, 2e-3));
    CHECK(error_of(drain, exact, "pipe that gathers through its openings, free end") < 0.01);
  }
}

// On a steep pipe the water is fast from close under its head on. There the solver leaves out what the
// growing depth takes, (Fr2 - 1) dy/dx, and stays on the deep side.
TEST_CASE("a steep pipe gathers a little too deep, and steadily") {
  const double fall = 0.08;
  Drain drain = steady(gathering(fall, 20));
  const double whole = drain.outlet_flow(0), q = whole / pipe_length;
  // The place where water at its critical depth neither rises nor falls, and the surface on from there.
  const auto excess = [&](double x, double y) {
    const double area = wetted_area(diameter, y);
    return fall - std::pow(q * x / conveyance(diameter, manning_n, y), 2) -
           2 * q * q * x / (gravity * area * area);
  };
  double x = 0.01;
  while (excess(x, critical_depth(diameter, q * x)) < 0) x += 1e-3;
  REQUIRE(x < 1);
  double y = 0.98 * critical_depth(diameter, q * x);
  const double dx = 1e-4;
  for (std::size_t i = 0; i < drain.stations().size(); ++i) {
    const Station& station = drain.stations()[i];
    for (; x < station.distance; x += dx) y += dx * excess(x, y) / (1 - froude2({y, q * x}));
    if (station.distance < 1) continue;
    const double computed = drain.pipe_level()[i] - station.invert;
    CHECK(computed > y);
    CHECK(computed < 1.08 * y);
    figures::record("drain", "steep pipe that gathers through its openings", "depths from 1 m on, m", y,
                    computed, figures::share(0.08));
  }
  const std::vector<double> none(drain.stations().size(), 0.0);
  for (int k = 0; k < 100; ++k) {
    drain.advance(2, {none, none, none}, none);
    CHECK_THAT(drain.outlet_flow(0), WithinRel(whole, 1e-4));
  }
}
