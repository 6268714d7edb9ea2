// Time of one step of a drain against its number of stations: a run through a storm that fills it, surcharges
// it and lets it run empty, then a network of four legs. What a station costs should not grow with their
// number.
#include <chrono>
#include <cstdio>
#include <numeric>
#include <string>
#include <vector>

#include <lowspot/drain/drain.hpp>

using namespace lowspot;
using Clock = std::chrono::steady_clock;

namespace {

drain::Run leg(const std::string& name, Point head, Point foot, double upper, double lower,
               const std::string& to) {
  drain::Run run;
  run.name = name;
  run.path = {head, foot};
  run.inverts = {upper, lower};
  run.to = to;
  run.pipe = {0.1, 0.015, 20e-4, 0.61};
  run.trench_width = 0.3;
  run.stone = {0.38, 0.08, 200};
  run.cap = {0.02, 0.05};
  return run;
}

drain::Layout straight(double length) {
  drain::Layout layout;
  layout.runs = {leg("leg", {0, 0}, {length, 0}, 99.5, 99.5 - 0.01 * length, "end")};
  layout.outlets = {{"end", drain::OutletKind::daylight, {length, 0}}};
  return layout;
}

drain::Layout network(double length) {
  drain::Layout layout;
  for (int k = 0; k < 4; ++k) {
    const double y = 3.0 * (k - 1.5);
    layout.runs.push_back(
        leg("leg " + std::to_string(k), {0, y}, {length, 0}, 99.5, 99.5 - 0.01 * length, "tee"));
  }
  layout.runs.push_back(
      leg("carrier", {length, 0}, {2 * length, 0}, 99.5 - 0.01 * length, 99.5 - 0.03 * length, "end"));
  layout.fittings = {{"tee", {length, 0}}};
  layout.runs.back().from = "tee";
  layout.outlets = {{"end", drain::OutletKind::daylight, {2 * length, 0}}};
  return layout;
}

void report(const char* name, const drain::Layout& layout) {
  drain::Drain drain(layout, [](Point) { return 100.0; });
  const std::size_t stations = drain.stations().size();
  const std::vector<double> none(stations, 0.0);
  std::vector<double> cap(stations), ponded(stations, 0.0);
  double seconds = 0;
  int steps = 0;
  for (double hour = 0; hour < 6; hour += 10.0 / 3600) {
    // Half an hour of rain that is more than the pipe carries, then drying.
    const double rate = hour > 0.5 && hour < 1.0 ? 6e-3 : hour < 0.5 ? 2e-4 : 0.0;
    for (double& each : cap) each = rate / static_cast<double>(stations);
    const auto start = Clock::now();
    drain.advance(10, {cap, none, none}, ponded);
    seconds += std::chrono::duration<double>(Clock::now() - start).count();
    ++steps;
  }
  std::printf("%-10s %5zu stations  %8.1f us a step of 10 s  %6.2f us a station\n", name, stations,
              1e6 * seconds / steps, 1e6 * seconds / steps / static_cast<double>(stations));
}

} // namespace

int main() {
  for (double length : {5.0, 10.0, 20.0, 40.0, 80.0, 160.0}) report("one run", straight(length));
  for (double length : {5.0, 10.0, 20.0, 40.0}) report("four legs", network(length));
}
