// A mild pipe that leads on into a steep one, or into a vessel: critical depth at its end, and above it the
// drawn-down surface dy/dx = (S - Q2/K2) / (1 - Q2 T / (g A3)) (Chow 1959, chapter 9), marched upward.
#include <cmath>
#include <vector>

#include <lowspot/drain/drain.hpp>
#include <lowspot/drain/pipe_section.hpp>

#include "catch.hpp"
#include "figures.hpp"

using namespace lowspot;
using namespace lowspot::drain;

namespace {

constexpr double diameter = 0.15, manning_n = 0.011, flow = 4e-3, pipe_length = 10;

Run pipe(double x0, double z0, double z1) {
  Run run;
  run.path = {{x0, 0}, {x0 + pipe_length, 0}};
  run.inverts = {z0, z1};
  run.pipe = {diameter, manning_n, 0, 0.61};
  run.has_trench = false;
  return run;
}

// Ten metres at `slope`, then ten at 10 %.
Layout mild_then_steep(double slope, double spacing) {
  Layout layout;
  layout.runs = {pipe(0, 11 + slope * pipe_length, 11), pipe(pipe_length, 11, 10)};
  layout.runs[0].name = "mild";
  layout.runs[0].to = layout.runs[1].from = "break";
  layout.runs[1].name = "steep";
  layout.runs[1].to = "end";
  layout.fittings = {{"break", {pipe_length, 0}}};
  layout.fittings[0].loss = 0;
  layout.outlets = {{"end", OutletKind::daylight, {2 * pipe_length, 0}}};
  layout.station_spacing = spacing;
  return layout;
}

Drain steady(const Layout& layout) {
  Drain drain(layout, [](Point) { return 13.0; });
  std::vector<double> in(drain.stations().size(), 0.0);
  const std::vector<double> none(in.size(), 0.0);
  in[0] = flow;
  for (int k = 0; k < 400; ++k) drain.advance(5, {none, none, in}, none);
  return drain;
}

// Depth at `distance` above the end of the mild pipe, of its own fall or pressed up by steady flow.
double drawn_down(double slope, double distance) {
  const auto gradient = [&](double y) {
    const double area = wetted_area(diameter, y), width = top_width(diameter, y);
    const double friction = std::pow(flow / conveyance(diameter, manning_n, y), 2);
    return (slope - friction) / (1 - flow * flow * width / (gravity * area * area * area));
  };
  double y = critical_depth(diameter, flow) * 1.0005; // there the surface is upright
  const int steps = 200000;
  const double dx = distance / steps;
  for (int k = 0; k < steps; ++k) y -= dx * gradient(y - dx / 2 * gradient(y));
  return y;
}

void check_profile(const Drain& drain, double slope, const char* what) {
  for (std::size_t i = 0; i < drain.stations().size(); ++i) {
    const Station& station = drain.stations()[i];
    if (station.run != 0) continue;
    const double exact = drawn_down(slope, pipe_length - station.distance);
    const double depth = drain.pipe_level()[i] - station.invert;
    CHECK_THAT(depth, WithinRel(exact, 0.01));
    figures::record("drain", what, "depths along the mild pipe, m", exact, depth, figures::share(0.01));
  }
}

} // namespace

TEST_CASE("slow water passes its critical depth where the grade breaks at a fitting") {
  for (const double slope : {0.0005, 0.002})
    for (const double spacing : {0.5, 0.1}) {
      const Drain drain = steady(mild_then_steep(slope, spacing));
      CHECK_THAT(drain.outlet_flow(0), WithinRel(flow, 1e-6));
      check_profile(drain, slope, "mild pipe that leads into a steep one");
      const std::size_t last = drain.stations().size() - 1;
      CHECK_THAT(drain.pipe_level()[last] - drain.stations()[last].invert,
                 WithinRel(normal_depth(diameter, manning_n, 0.1, flow), 0.01));
    }
}

TEST_CASE("slow water passes its critical depth where it falls into a vessel, until that drowns it") {
  Layout layout;
  layout.runs = {pipe(0, 11.02, 11)};
  layout.runs[0].name = "mild";
  layout.runs[0].to = "well";
  Outlet well{"well", OutletKind::dry_well, {pipe_length, 0}};
  well.chamber = {2.0, 9, 11.5, 1e-3, 3.0, 6.0, 11.5}; // soaks all at a level well below the pipe
  well.mouth = Mouth{12, 1, 0.1, 0, false, {{pipe_length, 0}}};
  layout.outlets = {well};
  Drain drain = steady(layout);
  REQUIRE(drain.outlet_level(0) < 10.9);
  check_profile(drain, 0.002, "mild pipe that falls into a dry well");
}
