#include <lowspot/study/one_run.hpp>

#include <algorithm>
#include <chrono>

#include <lowspot/results/recorder.hpp>
#include <lowspot/study/season.hpp>

namespace lowspot::study {

double share_done(double time, double end_of_rain, double end) {
  const double busy = std::min(end, end_of_rain + 5400);
  if (busy <= 0) return 1;
  if (time < busy) return 0.9 * time / busy;
  return end > busy ? 0.9 + 0.1 * (time - busy) / (end - busy) : 1;
}

namespace {
constexpr double hour = 3600;

results::OutputTimes plan_stops(const site::RunOptions& options, const yard::Yard& yard, bool few) {
  if (!few) return results::plan_outputs(options, yard.end_of_rain(), yard.end_time());
  results::OutputTimes plan;
  for (double time = 0; time < yard.end_time() - 1e-6; time += time < yard.end_of_rain() ? hour : 6 * hour)
    plan.times.push_back(time);
  plan.times.push_back(yard.end_time());
  plan.with_maps.assign(plan.times.size(), true);
  return plan;
}
} // namespace

OneRun run_one(const site::Site& site, const terrain::Ground& ground, const rain::Hyetograph& rain,
               const site::Design* design, const std::vector<terrain::LowSpot>& low_spots,
               const RunSettings& settings) {
  const auto start = std::chrono::steady_clock::now();
  yard::Options options;
  options.method = settings.method;
  options.threads = settings.threads;
  options.follow_sources = settings.follow_sources && settings.method == surface::Method::dynamic;
  yard::Yard yard(site, ground, rain, design, options);
  OneRun run;
  run.warnings = yard.warnings();
  const results::OutputTimes plan = plan_stops(site.run, yard, settings.few_stops);
  // Without series the same stops are made, so that the steps, and with them every figure, are the same.
  const results::OutputTimes none{plan.times, std::vector<bool>(plan.times.size(), false)};
  results::Recorder recorder(yard, settings.figures_only ? none : plan);
  if (options.follow_sources) recorder.follow_shares(yard, low_spots);
  for (const double time : plan.times) {
    yard.advance(time, &recorder);
    if (!settings.figures_only) recorder.output(yard);
    if (settings.progress) settings.progress(share_done(time, yard.end_of_rain(), plan.times.back()));
  }
  const std::chrono::duration<double> spent = std::chrono::steady_clock::now() - start;
  run.record = recorder.finish(yard, spent.count());
  if (run.record.time.empty()) run.record.time = {yard.time()}; // how far it was followed
  run_season(site, ground, design, yard, run.record);
  return run;
}

} // namespace lowspot::study
