// Runs of a study per minute, by the number of threads that take its jobs. A run is the storm yard of
// storm_yard.hpp's size in spirit: a bowl with a drain, routed, figures alone, as plausible soils are run.
// Usage: study_benchmark [cells a side, default 48] [runs, default 24]
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>

#include <lowspot/study/executor.hpp>
#include <lowspot/study/one_run.hpp>

#include "../tests/simple_yard.hpp"

using namespace lowspot;

int main(int count, char** arguments) {
  const int side = count > 1 ? std::atoi(arguments[1]) : 48;
  const int runs = count > 2 ? std::atoi(arguments[2]) : 24;
  const double middle = side * 0.4 / 2;
  SimpleYard yard = simple_yard(
      side, side, 0.4, [&](double x, double y) { return 1.0 + 0.01 * std::hypot(x - middle, y - middle); });
  make_pervious(yard);
  open_side(yard, terrain::Side::east);
  add_whole_area(yard, "bowl");
  rain_at(yard, 6e-6, 2 * 3600);
  yard.site.storm.dry = 3 * 86400.0;
  yard.site.soils[0].tight_conductivity = {1e-8, 1e-8, 1e-8};
  const site::Design drain = simple_drain(yard, 0.45);
  study::Jobs jobs;
  jobs.count = runs;
  jobs.run = [&](int k, const std::function<void(double)>& report) {
    study::RunSettings settings;
    settings.method = surface::Method::routed;
    settings.figures_only = settings.few_stops = true;
    settings.progress = report;
    return study::run_one(yard.site, yard.ground, yard.rain, k % 2 ? &drain : nullptr, {}, settings)
        .record.name;
  };
  std::printf("%d cells, %d runs\n%8s %14s %8s\n", side * side, runs, "threads", "runs a minute", "ratio");
  double one = 0;
  for (const int threads : {1, 2}) {
    study::ThreadExecutor executor(threads);
    const auto start = std::chrono::steady_clock::now();
    executor.run(jobs);
    const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    const double rate = 60 * runs / seconds;
    if (threads == 1) one = rate;
    std::printf("%8d %14.1f %8.2f\n", threads, rate, rate / one);
  }
}
