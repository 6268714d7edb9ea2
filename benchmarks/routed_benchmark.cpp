// The routed method against the dynamic one on the storm yard: time, and what it does to maps and hydrograph.
// Usage: routed_benchmark [cell in m, default 0.25] [days, default 7]
#include <cstdio>
#include <cstdlib>

#include "storm_yard.hpp"

using namespace lowspot;
using namespace storm_yard;

namespace {

void print(const char* name, const Answer& answer, const Answer& reference) {
  const Difference d = between(reference, answer);
  const double misfit = answer.rain - answer.out - answer.taken - answer.stored;
  std::printf("%-18s %8.2f %8.0f %7.3f %8.3f %8.2f %8.2f/%-6.1f %+7.1f %10.1e\n", name,
              answer.surface_seconds, answer.steps, d.overlap, d.hours, 100 * d.hydrograph, 1e3 * d.depth,
              1e3 * d.depth_most, 100 * d.ponded, misfit / answer.rain);
  std::fflush(stdout);
}

// The routed method and nothing else, to look at where its time goes.
void alone(double cell, double until) {
  surface::Options options;
  options.method = surface::Method::routed;
  options.routing_step = 60;
  for (const bool after : {false, true}) {
    const Answer answer = run(make_yard(cell, after), options, 1, until, 300, 300);
    std::printf("%s %.3f CPU s, %.0f steps\n", after ? "low spot filled in" : "as it is",
                answer.surface_seconds, answer.steps);
  }
}

} // namespace

int main(int count, char** arguments) {
  const double cell = count > 1 ? std::atof(arguments[1]) : 0.25;
  const double until = (count > 2 ? std::atof(arguments[2]) : 7) * 86400;
  if (count > 3) {
    alone(cell, until);
    return 0;
  }
  for (const double factor : {1.0, 0.5, 2.0})
    for (const bool after : {false, true}) {
      if (factor != 1 && after) continue;
      const Yard yard = make_yard(cell, after);
      std::printf("\n%zu cells, %.0f mm, %s\n", yard.terrain.grid.cells(), 60 * factor,
                  after ? "low spot filled in" : "as it is");
      std::printf("%-18s %8s %8s %7s %8s %8s %15s %7s %10s\n", "method", "CPU s", "steps", "overlap",
                  "hours RMS", "flow %", "depth mm", "m2h %", "books");
      const Answer reference = run(yard, {}, factor, until, 10, 10);
      print("dynamic", reference, reference);
      for (const double step : {10.0, 30.0, 60.0}) {
        surface::Options options;
        options.method = surface::Method::routed;
        options.routing_step = step;
        const Answer answer = run(yard, options, factor, until, 300, 300); // it takes steps of its own
        char name[32];
        std::snprintf(name, sizeof name, "routed, %.0f s", step);
        print(name, answer, reference);
        if (step == 30)
          std::printf("%-18s %.0f times cheaper\n", "", reference.surface_seconds / answer.surface_seconds);
      }
    }
}
