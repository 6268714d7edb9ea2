#include <lowspot/study/compare.hpp>

#include <algorithm>
#include <cmath>
#include <set>
#include <thread>

#include <lowspot/base/error.hpp>
#include <lowspot/base/limits.hpp>
#include <lowspot/base/memory.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/checks/check_design.hpp>
#include <lowspot/checks/run_checks.hpp>
#include <lowspot/rain/hyetograph.hpp>
#include <lowspot/results/drain_reach.hpp>
#include <lowspot/results/output_times.hpp>
#include <lowspot/study/describe.hpp>
#include <lowspot/study/named_design.hpp>
#include <lowspot/study/one_run.hpp>
#include <lowspot/study/options.hpp>
#include <lowspot/study/season.hpp>
#include <lowspot/study/side_by_side.hpp>
#include <lowspot/study/verdict.hpp>

namespace lowspot::study {
namespace {

// Measured by benchmarks/routed_benchmark.cpp: the worst of its storms and yards.
constexpr const char* routed_caution =
    "The water on the ground was routed from pool to pool, a quick method for screening. Against the dynamic "
    "method on a trial yard it disagrees on up to 3 in 100 of the cells that stand wet for hours, on their "
    "hours by 0.02 to 0.15 h, on the flow over the edge by 0.4 to 1.1 % of its peak, on area times hours by "
    "up to 3 %, and on the greatest depth by 1 to 3 mm, in single cells by up to 45 mm. Confirm a choice "
    "with --method dynamic.";

} // namespace

std::vector<const site::Design*> chosen_designs(const site::Site& site,
                                                const std::vector<std::string>& names) {
  std::set<const site::Design*> wanted;
  for (const std::string& name : names) wanted.insert(&named_design(site, name));
  std::vector<const site::Design*> designs{nullptr}; // as it is
  for (const site::Design& design : site.designs)
    if (names.empty() || wanted.count(&design)) designs.push_back(&design);
  return designs;
}

namespace {

// What the figures of a run are held against, and how far its trenches reach a day after the rain.
void judge_design(const site::Site& site, const terrain::Ground& ground, const site::Design& design,
                  const results::Comparison& comparison, results::DesignRecord& record) {
  record.checks = checks::check_design(site, ground, design);
  const std::vector<results::CheckRecord> more =
      checks::check_run(site, ground, design, comparison.designs.front(), record, comparison.end_of_rain);
  record.checks.insert(record.checks.end(), more.begin(), more.end());
  std::vector<double> widths;
  for (const site::Run& run : design.runs) widths.push_back(run.has_trench ? run.trench_width : 0);
  constexpr double day = 86400;
  results::find_reach(comparison, record, widths, day);
}

// Takes the designs away whose runs a stop ended, and says so.
std::string leave_out_unfinished(const std::vector<char>& finished, std::vector<const site::Design*>& designs,
                                 results::Comparison& comparison,
                                 std::vector<std::vector<std::string>>& warnings) {
  const std::size_t all = designs.size();
  std::string missing;
  std::size_t kept = 0;
  for (std::size_t k = 0; k < all; ++k) {
    if (finished[k] == 0) {
      missing += (missing.empty() ? "\"" : ", \"") + designs[k]->name + "\"";
      continue;
    }
    designs[kept] = designs[k];
    if (kept != k) comparison.designs[kept] = std::move(comparison.designs[k]);
    if (kept != k) warnings[kept] = std::move(warnings[k]);
    ++kept;
  }
  designs.resize(kept);
  comparison.designs.resize(kept);
  warnings.resize(kept);
  return "Stopped by you after " + std::to_string(kept - 1) + " of " + std::to_string(all - 1) +
         " designs; not run to the end: " + missing + ".";
}

// Maps over time take more than the runs themselves: refused now rather than after an hour.
void require_memory_for(const site::Site& site, const terrain::Ground& ground, const rain::Hyetograph& rain,
                        int runs, int threads) {
  const bool until = std::isfinite(site.run.until);
  const double end = until ? site.run.until : rain.end_of_rain() + site.storm.dry;
  const results::OutputTimes plan = results::plan_outputs(site.run, rain.end_of_rain(), end);
  const auto maps = static_cast<double>(std::count(plan.with_maps.begin(), plan.with_maps.end(), true));
  constexpr double map_bytes = 3 * sizeof(float), extremes_bytes = 100; // a cell; see results::DesignRecord
  if (threads <= 0) threads = static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
  const auto cells = static_cast<double>(ground.grid.cells());
  const double bytes = cells * (limits::grid_cell_bytes * std::min(runs, threads) +
                                (maps * map_bytes + extremes_bytes) * runs);
  require_memory(bytes, {site.file.string(), 0, "site.cell"},
                 std::to_string(runs) + " runs on " + rounded(cells) + " cells with " + rounded(maps) +
                     " maps each",
                 "Use larger cells (--cell), or run one --design at a time.");
}

} // namespace

results::Comparison compare(const site::Site& site, const terrain::Ground& ground,
                            const CompareOptions& options) {
  std::vector<const site::Design*> designs = chosen_designs(site, options.designs);
  const rain::Hyetograph rain = rain::make_hyetograph(site);
  require_memory_for(site, ground, rain, static_cast<int>(designs.size()), options.threads);
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
  const int count = static_cast<int>(designs.size());
  ProgressBoard board(count, options.progress);
  std::vector<char> finished(designs.size(), 0);
  const auto run = [&](int k) {
    RunSettings settings;
    settings.method = options.method;
    settings.threads = threads_each(count, options.threads);
    settings.follow_sources = designs[k] == nullptr; // what a drain changes is told from the yard as it is
    settings.progress = [&](double share) { board.update(k, share); };
    OneRun one = run_one(site, ground, rain, designs[k], comparison.low_spots, settings);
    comparison.designs[k] = std::move(one.record);
    warnings[k] = std::move(one.warnings);
    finished[k] = 1;
  };
  std::string stop; // what a stop left out
  try {
    run_side_by_side(count, options.threads, run);
  } catch (const Stopped&) {
    if (!options.keep_finished || finished[0] == 0 || std::count(finished.begin(), finished.end(), 1) < 2)
      throw;
    stop = leave_out_unfinished(finished, designs, comparison, warnings);
  }
  for (std::size_t k = 0; k < designs.size(); ++k)
    for (const std::string& warning : warnings[k])
      comparison.warnings.push_back("design '" + comparison.designs[k].name + "': " + warning);
  for (std::size_t k = 0; k < designs.size(); ++k)
    if (designs[k])
      judge_design(site, ground, *designs[k], comparison, comparison.designs[k]);
    else
      comparison.designs[k].checks = checks::check_yard(site, ground);
  comparison.verdict = make_verdict(comparison);
  if (!stop.empty()) {
    comparison.verdict.sentence = stop + " " + comparison.verdict.sentence;
    comparison.warnings.insert(comparison.warnings.begin(), stop);
  }
  comparison.options = rank_options(site, ground, comparison);
  return comparison;
}

} // namespace lowspot::study
