// A yard from storm to dry (storm_yard.hpp): plain steps with no cap on the celerity and no level pools,
// against the same method as it is used. Usage: yard_benchmark [cell in m, default 0.5] [days, default 0.5]
// With a third argument, whatever it is, the method as it is used alone: the yard as it is and with its low
// spot filled in, side by side on two threads.
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <thread>

#include "storm_yard.hpp"

using namespace lowspot;
using namespace storm_yard;

namespace {

void print(const char* name, const Answer& answer, const Answer& reference) {
  const Difference d = between(reference, answer);
  const double misfit = answer.rain - answer.out - answer.taken - answer.stored;
  std::printf("%-24s %8.2f %8.1f %9.0f %8.3f %8.3f %8.2f %8.2f/%-6.1f %10.1e\n", name, answer.surface_seconds,
              reference.surface_seconds / answer.surface_seconds, answer.steps, d.overlap, d.hours,
              100 * d.hydrograph, 1e3 * d.depth, 1e3 * d.depth_most, misfit / answer.rain);
  std::fflush(stdout);
}

void side_by_side(const Yard& as_it_is, double cell, double until) {
  const Yard filled = make_yard(cell, true);
  Answer before, after;
  const auto start = std::chrono::steady_clock::now();
  std::thread other([&] { after = run(filled, {}, 1, until, 30, 60); });
  before = run(as_it_is, {}, 1, until, 30, 60);
  other.join();
  const std::chrono::duration<double> passed = std::chrono::steady_clock::now() - start;
  std::printf("as it is %.2f CPU s, %.0f steps; low spot filled in %.2f CPU s, %.0f steps; both side by side "
              "within %.2f s\n",
              before.surface_seconds, before.steps, after.surface_seconds, after.steps, passed.count());
}

} // namespace

int main(int count, char** arguments) {
  const double cell = count > 1 ? std::atof(arguments[1]) : 0.5;
  const double until = (count > 2 ? std::atof(arguments[2]) : 0.5) * 86400;
  const Yard yard = make_yard(cell, false);
  surface::Options plain, uncapped;
  plain.celerity_cap = uncapped.celerity_cap = 1e9;
  plain.allow_rest = false;
  std::printf("%zu cells, %.1f days\n", yard.terrain.grid.cells(), until / 86400);
  if (count > 3) {
    side_by_side(yard, cell, until);
    return 0;
  }
  std::printf("%-24s %8s %8s %9s %8s %8s %8s %15s %10s\n", "", "CPU s", "ratio", "steps", "overlap", "hours",
              "flow %", "depth mm", "misfit");
  const Answer reference = run(yard, plain, 1, until, 30, 60);
  print("plain steps", reference, reference);
  print("level pools", run(yard, uncapped, 1, until, 30, 60), reference);
  print("level pools and cap", run(yard, {}, 1, until, 30, 60), reference);
}
