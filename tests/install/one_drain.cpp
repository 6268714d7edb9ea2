// One drain alone: 15 m of 4 in pipe in stone, fed through its cap; how full it runs and what limits it.
#include <cmath>
#include <cstdio>
#include <lowspot/drain/drain.hpp>

int main() {
  using namespace lowspot::drain;
  Run run;
  run.path = {{0, 0}, {15, 0}};
  run.inverts = {9.5, 9.35};           // m: a fall of 1 in 100
  run.pipe = {0.1, 0.012, 2e-3, 0.61}; // diameter, Manning's n, openings [m2 per m], their coefficient
  run.trench_width = 0.3;
  run.stone = {0.38, 0.2, 0}; // porosity, conductivity [m/s], Forchheimer's b
  run.cap = {5e-5, 0.1};      // conductivity [m/s] and depth of the soil over the stone
  run.to = "end";
  Drain drain({{run}, {}, {{"end", OutletKind::daylight, {15, 0}}}, {}}, [](lowspot::Point) { return 10.0; });
  const std::vector<double> ponded(drain.stations().size(), 0.05), none(ponded.size(), 0.0);
  std::vector<double> cap(ponded.size());
  double came = 0, left = 0;
  for (int minute = 0; minute < 60; ++minute) {
    drain.cap_capacity(ponded, 60, cap);
    for (const double rate : cap) came += rate * 60;
    left += drain.advance(60, {cap, none, none}, ponded).outlet_volume[0];
  }
  std::printf("%.2f L/s of %.2f L/s; what limits it: %s\n", drain.outlet_flow(0) * 1e3,
              drain.full_flow_capacity(0) * 1e3, limit_name(drain.run_state(0).limit).c_str());
  return std::abs(came - left - drain.stored()) < 1e-9 ? 0 : 1; // every litre
}
