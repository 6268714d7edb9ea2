#include <lowspot/study/storms.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <nlohmann/json.hpp>

#include <lowspot/rain/depth_duration.hpp>
#include <lowspot/results/target.hpp>
#include <lowspot/study/compare.hpp>
#include <lowspot/study/draws.hpp>
#include <lowspot/study/one_run.hpp>
#include <lowspot/study/spread.hpp>
#include <lowspot/study/storms_words.hpp>

namespace lowspot::study {
namespace {
using Json = nlohmann::json;

struct Outcome {
  double hours = 0;
  bool open = false, met = false;
  std::string place;
};

Outcome outcome_of(const results::DesignRecord& record, double clear_within, double end_of_rain) {
  const results::Standing longest = results::longest_standing(record, clear_within, end_of_rain);
  return {longest.hours, longest.still, results::clears(record, clear_within, end_of_rain), longest.place};
}

StormLevel make_level(rain::Hyetograph rain, double period) {
  return {period, rain.depth(), rain.peak_intensity(), std::move(rain)};
}

// Depth to return period, straight in the logarithm of the period.
double period_at(const std::vector<StormLevel>& levels, double depth) {
  for (std::size_t k = 1; k < levels.size(); ++k)
    if (depth >= levels[k - 1].depth && depth <= levels[k].depth) {
      const double share = (depth - levels[k - 1].depth) / (levels[k].depth - levels[k - 1].depth);
      return levels[k - 1].return_period *
             std::pow(levels[k].return_period / levels[k - 1].return_period, share);
    }
  return std::numeric_limits<double>::quiet_NaN();
}

void summarise(StormCurve& curve, const std::vector<StormLevel>& levels,
               const std::vector<std::vector<Outcome>>& draws, double clear_within) {
  std::vector<double> depths;
  for (const StormLevel& level : levels) depths.push_back(level.depth);
  curve.fails_at = failing_depth(depths, curve.hours, curve.met, clear_within / 3600);
  curve.fails_period = period_at(levels, curve.fails_at);
  if (draws.empty()) return;
  const std::vector<double> equal(draws.size(), 1.0);
  for (std::size_t k = 0; k < levels.size(); ++k) {
    std::vector<double> hours;
    std::vector<char> open;
    int works = 0;
    for (const std::vector<Outcome>& draw : draws) {
      hours.push_back(draw[k].hours);
      open.push_back(draw[k].open);
      works += draw[k].met;
    }
    curve.p10.push_back(weighted_quantile(hours, equal, 0.1));
    curve.p90.push_back(weighted_quantile(hours, equal, 0.9));
    curve.p90_open.push_back(quantile_is_open(hours, open, equal, 0.9));
    curve.works.push_back(static_cast<double>(works) / static_cast<double>(draws.size()));
  }
}
} // namespace

double failing_depth(const std::vector<double>& depths, const std::vector<double>& hours,
                     const std::vector<char>& met, double target) {
  for (std::size_t k = 0; k < depths.size(); ++k) {
    if (met[k]) continue;
    if (k == 0) return 0;
    const double rise = hours[k] - hours[k - 1];
    // Water that outlasts a run shorter than the target fails with fewer hours: where is not known.
    const bool told = rise > 0 && hours[k] > target;
    const double share = told ? std::clamp((target - hours[k - 1]) / rise, 0.0, 1.0) : 0.5;
    return depths[k - 1] + share * (depths[k] - depths[k - 1]);
  }
  return std::numeric_limits<double>::infinity();
}

std::vector<StormLevel> storm_levels(const site::Site& site) {
  std::vector<StormLevel> levels;
  const site::Storm& storm = site.storm;
  if (!storm.table.empty() && storm.pattern != "gauge" && storm.gauge.empty() && storm.blocks.empty()) {
    const std::vector<double> has = rain::return_periods(site.folder / storm.table);
    for (const double period : {1.0, 2.0, 5.0, 10.0, 25.0, 50.0, 100.0}) {
      if (period < 0.999 * has.front() || period > 1.001 * has.back()) continue;
      site::Site one = site;
      one.storm.return_period = period;
      one.storm.depth = site::not_given; // a depth of its own would hold for all of them
      levels.push_back(make_level(rain::make_hyetograph(one), period));
    }
    return levels;
  }
  const rain::Hyetograph own = rain::make_hyetograph(site);
  for (const double times : {0.25, 0.5, 0.75, 1.0, 1.5, 2.0, 3.0}) {
    rain::Hyetograph rain = own;
    for (double& intensity : rain.intensity) intensity *= times;
    levels.push_back(make_level(std::move(rain), site::not_given));
  }
  return levels;
}

StormStudy run_storms(const site::Site& site, const terrain::Ground& ground, Executor& executor,
                      const StormOptions& options) {
  StormStudy study;
  study.levels = storm_levels(site);
  study.clear_within = site.target.clear_within;
  study.cell = ground.grid.cell;
  study.method = options.method == surface::Method::routed ? "routed" : "dynamic";
  const std::vector<const site::Design*> designs = chosen_designs(site, options.designs);
  const std::vector<UncertainInput> inputs = find_uncertain_inputs(site);
  study.draws = inputs.empty() ? 0 : options.draws;
  study.seed = options.seed;
  std::vector<std::vector<double>> values;
  if (study.draws > 0) values = stratified(study.draws, static_cast<int>(inputs.size()), options.seed);
  for (std::vector<double>& draw : values)
    for (std::size_t k = 0; k < inputs.size(); ++k) draw[k] = value_at(inputs[k], draw[k]);

  const int levels = static_cast<int>(study.levels.size()), count = static_cast<int>(designs.size());
  const int round = levels * count; // the first round is at the likely values
  std::vector<std::vector<std::vector<Outcome>>> found(
      count, std::vector<std::vector<Outcome>>(study.draws + 1, std::vector<Outcome>(levels)));
  std::vector<int> runs_of(levels, 0); // of each storm, at the likely values
  Jobs jobs;
  jobs.count = round * (study.draws + 1);
  jobs.progress = options.progress;
  jobs.run = [&](int k, const std::function<void(double)>& report) {
    const int draw = k / round - 1;
    RunSettings settings;
    settings.method = options.method;
    settings.figures_only = settings.few_stops = true;
    settings.progress = report;
    const site::Site drawn = draw < 0 ? site : with_values(site, inputs, values[draw]);
    const rain::Hyetograph& rain = study.levels[k % round / count].rain;
    const results::DesignRecord record =
        run_one(drawn, ground, rain, same_design(drawn, site, designs[k % count]), {}, settings).record;
    const Outcome one = outcome_of(record, site.target.clear_within, rain.end_of_rain());
    return Json{one.hours, one.open, one.met, one.place}.dump(-1, ' ', false, Json::error_handler_t::replace);
  };
  jobs.sink = [&](int k, const std::string& result) {
    const Json one = Json::parse(result);
    found[k % count][k / round][k % round / count] = {one[0], one[1], one[2], one[3]};
    if (k < round) ++runs_of[k / count];
  };
  std::string stop;
  try {
    executor.run(jobs);
  } catch (const Stopped&) {
    int whole = 0; // storms, the lightest first, that every design has been through
    while (whole < levels && runs_of[whole] == count) ++whole;
    if (!options.keep_finished || whole == 0 || !executor.leads()) throw;
    stop = "Stopped by you after " + std::to_string(whole) + " of " + std::to_string(levels) + " storms" +
           (study.draws > 0 ? ", without a band over plausible soils." : ".");
    study.levels.resize(whole);
    study.draws = 0;
    for (auto& one : found) {
      one.resize(1);
      one.front().resize(whole);
    }
  }

  for (int d = 0; d < count; ++d) {
    StormCurve curve;
    curve.design = designs[d] ? designs[d]->name : "as is";
    for (const Outcome& one : found[d].front()) {
      curve.hours.push_back(one.hours);
      curve.place.push_back(one.place);
      curve.open.push_back(one.open);
      curve.met.push_back(one.met);
    }
    found[d].erase(found[d].begin());
    summarise(curve, study.levels, found[d], study.clear_within);
    study.curves.push_back(std::move(curve));
  }
  for (const StormCurve& curve : study.curves) study.sentences.push_back(storm_sentence(curve, study, site));
  if (!stop.empty()) study.sentences.front() = stop + " " + study.sentences.front();
  return study;
}

} // namespace lowspot::study
