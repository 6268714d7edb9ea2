#include <lowspot/study/compare.hpp>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <memory>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/rain/hyetograph.hpp>
#include <lowspot/results/recorder.hpp>
#include <lowspot/study/describe.hpp>
#include <lowspot/study/season.hpp>
#include <lowspot/study/side_by_side.hpp>
#include <lowspot/study/verdict.hpp>
#include <lowspot/yard/yard.hpp>

namespace lowspot::study {
namespace {

// Measured by benchmarks/routed_benchmark.cpp: the worst of its storms and yards.
constexpr const char* routed_caution =
    "The water on the ground was routed from pool to pool, a quick method for screening. Against the dynamic "
    "method on a trial yard it disagrees on 1 to 25 in 100 of the cells that stand wet for hours, on their "
    "hours "
    "by 0.1 to 1.4 h, on the flow over the edge by 1 to 4 % of its peak, and on area times hours by up to 28 "
    "%. "
    "Confirm a choice with --method dynamic.";

std::vector<const site::Design*> chosen_designs(const site::Site& site,
                                                const std::vector<std::string>& names) {
  std::vector<const site::Design*> designs{nullptr}; // as it is
  for (const site::Design& design : site.designs)
    if (names.empty() || std::find(names.begin(), names.end(), design.name) != names.end())
      designs.push_back(&design);
  for (const std::string& name : names) {
    const bool known = std::any_of(site.designs.begin(), site.designs.end(),
                                   [&](const site::Design& design) { return design.name == name; });
    if (known) continue;
    std::vector<std::string> all;
    for (const site::Design& design : site.designs) all.push_back(design.name);
    const std::string near = nearest(name, all);
    throw InputError({site.file.string(), 0, "--design"}, "'" + name + "'",
                     "the name of a design in the site file",
                     near.empty() ? "look at the names under [[design]]" : "did you mean '" + near + "'?");
  }
  return designs;
}

// Nearly all of a run's cost lies in the storm and the hour or two in which films run off.
double share_done(double time, double end_of_rain, double end) {
  const double busy = std::min(end, end_of_rain + 5400);
  if (busy <= 0) return 1;
  if (time < busy) return 0.9 * time / busy;
  return end > busy ? 0.9 + 0.1 * (time - busy) / (end - busy) : 1;
}

struct ProgressBoard {
  ProgressBoard(std::size_t runs, const std::function<bool(double)>& report_)
      : shares(std::make_unique<std::atomic<double>[]>(runs)), count(runs), report(report_) {}
  void update(std::size_t run, double share) {
    shares[run] = share;
    if (!report) return;
    double sum = 0;
    for (std::size_t k = 0; k < count; ++k) sum += shares[k];
    if (!report(sum / static_cast<double>(count))) throw Stopped{};
  }
  std::unique_ptr<std::atomic<double>[]> shares;
  std::size_t count;
  const std::function<bool(double)>& report;
};

results::DesignRecord run_one(const site::Site& site, const terrain::Ground& ground,
                              const rain::Hyetograph& rain, const site::Design* design,
                              const std::vector<terrain::LowSpot>& low_spots, surface::Method method,
                              std::size_t index, ProgressBoard& board, std::vector<std::string>& warnings) {
  const auto start = std::chrono::steady_clock::now();
  yard::Options yard_options;
  yard_options.method = method;
  yard_options.follow_sources =
      design == nullptr &&
      method == surface::Method::dynamic; // what a drain changes is told from the yard as it is
  yard::Yard yard(site, ground, rain, design, yard_options);
  warnings = yard.warnings();
  results::Recorder recorder(yard, results::plan_outputs(site.run, yard.end_of_rain(), yard.end_time()));
  if (yard_options.follow_sources) recorder.follow_shares(yard, low_spots);
  const std::vector<double> times = recorder.plan().times;
  for (double time : times) {
    yard.advance(time, &recorder);
    recorder.output(yard);
    board.update(index, share_done(time, yard.end_of_rain(), times.back()));
  }
  const std::chrono::duration<double> spent = std::chrono::steady_clock::now() - start;
  results::DesignRecord record = recorder.finish(yard, spent.count());
  run_season(site, ground, design, yard, record);
  return record;
}

} // namespace

results::Comparison compare(const site::Site& site, const terrain::Ground& ground,
                            const CompareOptions& options) {
  const std::vector<const site::Design*> designs = chosen_designs(site, options.designs);
  const rain::Hyetograph rain = rain::make_hyetograph(site);
  results::Comparison comparison = describe(site, ground, rain, options.version);
  comparison.low_spots = terrain::find_low_spots(ground);
  if (options.method == surface::Method::routed) {
    comparison.method = "routed";
    comparison.warnings.push_back(routed_caution);
  }
  comparison.daily_high = site.storm.daily_high;
  for (const site::Area& area : site.areas) comparison.cover_kinds.push_back(area.kind);
  comparison.season = season_plan(site);

  comparison.designs.resize(designs.size());
  std::vector<std::vector<std::string>> warnings(designs.size());
  ProgressBoard board(designs.size(), options.progress);
  run_side_by_side(static_cast<int>(designs.size()), options.threads, [&](int k) {
    comparison.designs[k] =
        run_one(site, ground, rain, designs[k], comparison.low_spots, options.method, k, board, warnings[k]);
  });
  for (std::size_t k = 0; k < designs.size(); ++k)
    for (const std::string& warning : warnings[k])
      comparison.warnings.push_back("design '" + comparison.designs[k].name + "': " + warning);
  comparison.verdict = make_verdict(comparison);
  return comparison;
}

} // namespace lowspot::study
