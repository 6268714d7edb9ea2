#include <lowspot/study/draw_runs.hpp>

#include <algorithm>
#include <cmath>

#include <nlohmann/json.hpp>

#include <lowspot/rain/hyetograph.hpp>
#include <lowspot/study/compare.hpp>
#include <lowspot/study/leak.hpp>
#include <lowspot/study/one_run.hpp>
#include <lowspot/study/seen_weights.hpp>

namespace lowspot::study {
namespace {
using Json = nlohmann::json;

DrawnRun lean(const results::DesignRecord& record, const site::Design* design, double end_of_rain) {
  return {figures_of(record, runs_to_outlets(design), end_of_rain), record.beds, record.season_beds,
          record.wall_seconds, record.time.empty() ? 0.0 : record.time.back()};
}

Json beds_text(const std::vector<results::BedRecord>& beds) {
  Json list = Json::array();
  for (const results::BedRecord& bed : beds) {
    Json one = Json::array();
    one.push_back(bed.name);
    one.push_back(bed.soggy_hours);
    one.push_back(bed.days_below_half_available_water);
    one.push_back(bed.still_soggy);
    list.push_back(std::move(one));
  }
  return list;
}

std::vector<results::BedRecord> beds_of(const Json& list) {
  std::vector<results::BedRecord> beds;
  for (const Json& one : list) {
    results::BedRecord bed;
    bed.name = one[0].get<std::string>();
    bed.soggy_hours = one[1].get<double>();
    bed.days_below_half_available_water = one[2].get<double>();
    bed.still_soggy = one[3].get<bool>();
    beds.push_back(std::move(bed));
  }
  return beds;
}

// What the main runs found: only the process that leads has them, so they go out like results of jobs.
void share_main(DrawRuns& runs, const results::Comparison* main, Executor& executor) {
  const int count = static_cast<int>(runs.designs.size());
  runs.main.resize(count);
  bool given = true;
  Jobs jobs;
  jobs.count = count + 1;
  jobs.run = [](int, const std::function<void(double)>&) { return std::string(); };
  jobs.known = [&](int k) -> std::optional<std::string> {
    if (!main) return "";
    if (k == count) return main->verdict.design;
    return to_text(lean(main->designs.at(k), runs.designs[k], main->end_of_rain));
  };
  jobs.sink = [&](int k, const std::string& result) {
    if (k == count)
      runs.recommended = result;
    else if (result.empty())
      given = false;
    else
      runs.main[k] = drawn_run(result);
  };
  executor.run(jobs);
  if (!given) runs.main.clear();
}
} // namespace

std::string to_text(const DrawnRun& run) {
  Json figures = Json::array();
  for (const Figure& figure : run.figures)
    figures.push_back({figure.what, figure.place, figure.unit, figure.value, figure.open});
  return Json{{"figures", figures},
              {"beds", beds_text(run.beds)},
              {"season_beds", beds_text(run.season_beds)},
              {"seconds", run.seconds},
              {"end", run.end}}
      .dump(-1, ' ', false, Json::error_handler_t::replace);
}

DrawnRun drawn_run(const std::string& text) {
  const Json all = Json::parse(text);
  DrawnRun run;
  run.beds = beds_of(all.at("beds"));
  run.season_beds = beds_of(all.at("season_beds"));
  run.seconds = all.at("seconds");
  run.end = all.at("end");
  for (const Json& one : all.at("figures"))
    run.figures.push_back(
        {one[0], one[1], one[2], one[3].is_null() ? site::not_given : one[3].get<double>(), one[4]});
  return run;
}

DrawRuns run_draws(const site::Site& site, const terrain::Ground& coarse, const results::Comparison* main,
                   const std::vector<UncertainInput>& inputs, const std::vector<std::vector<double>>& values,
                   Executor& executor, const PlausibleOptions& options) {
  DrawRuns runs;
  runs.designs = chosen_designs(site, options.designs);
  for (const site::Seen& seen : site.seen)
    if (std::isfinite(seen.rain)) runs.seen.push_back(&seen);
  share_main(runs, main, executor);

  const rain::Hyetograph rain = rain::make_hyetograph(site);
  const int designs = static_cast<int>(runs.designs.size()), draws = static_cast<int>(values.size());
  const int seen = static_cast<int>(runs.seen.size());
  const int storm_runs = designs * (draws + 1); // the first round is at the likely values
  runs.likely.resize(designs);
  runs.draws.assign(draws, std::vector<DrawnRun>(designs));
  runs.seen_hours.assign(seen, std::vector<double>(draws));
  runs.runs = storm_runs + seen * draws;

  Jobs jobs;
  jobs.count = runs.runs;
  jobs.progress = options.progress;
  jobs.run = [&](int k, const std::function<void(double)>& report) {
    if (k >= storm_runs) {
      const int draw = (k - storm_runs) / seen;
      const site::Seen& what = *runs.seen[(k - storm_runs) % seen];
      const site::Site drawn = with_values(site, inputs, values[draw]);
      return Json(wet_after_rain(drawn, coarse, what, seen_followed * what.lasted, options.method) / 3600)
          .dump();
    }
    const int draw = k / designs - 1;
    const site::Design* design = runs.designs[k % designs];
    RunSettings settings;
    settings.method = options.method;
    settings.figures_only = settings.few_stops = true;
    settings.progress = report;
    const site::Site drawn = draw < 0 ? site : with_values(site, inputs, values[draw]);
    return to_text(lean(run_one(drawn, coarse, rain, same_design(drawn, site, design), {}, settings).record,
                        design, rain.end_of_rain()));
  };
  jobs.sink = [&](int k, const std::string& result) {
    if (k >= storm_runs)
      runs.seen_hours[(k - storm_runs) % seen][(k - storm_runs) / seen] = Json::parse(result).get<double>();
    else if (k < designs)
      runs.likely[k] = drawn_run(result);
    else
      runs.draws[k / designs - 1][k % designs] = drawn_run(result);
  };
  executor.run(jobs);
  return runs;
}

} // namespace lowspot::study
