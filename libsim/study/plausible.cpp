#include <lowspot/study/plausible.hpp>

#include <algorithm>
#include <cmath>
#include <numeric>

#include <lowspot/rain/hyetograph.hpp>
#include <lowspot/results/target.hpp>
#include <lowspot/study/describe.hpp>
#include <lowspot/study/draw_runs.hpp>
#include <lowspot/study/flip.hpp>
#include <lowspot/study/next_tests.hpp>
#include <lowspot/study/plausible_words.hpp>
#include <lowspot/study/seen_weights.hpp>
#include <lowspot/study/spread.hpp>

namespace lowspot::study {
namespace {
using results::PlausibleDesign;
using results::PlausibleFigure;
using results::PlausibleStudy;

constexpr double cheaper =
    2.5; // cells that are run routed for figures alone, at the price of one run in full
constexpr double least_cells = 1000;
constexpr double coarsest = 4;    // times the main cell
constexpr double sure_hours = 1;  // shorter spells are not compared as a ratio
constexpr double most_factor = 2; // between coarse and full

bool is_hours(const Figure& figure) {
  return figure.what == "standing_hours" || figure.what == "soggy_hours";
}

// What hours of coarse runs are multiplied by.
double factor_between(const Figure& main, const Figure& coarse) {
  if (!is_hours(main) || main.open || coarse.open || main.value < sure_hours || coarse.value < sure_hours)
    return 1;
  return std::clamp(main.value / coarse.value, 1 / most_factor, most_factor);
}

PlausibleFigure make_figure(const DrawRuns& runs, std::size_t design, std::size_t index,
                            const std::vector<std::vector<double>>& values,
                            const std::vector<double>& weights) {
  const Figure& coarse = runs.likely[design].figures[index];
  PlausibleFigure figure;
  figure.design = runs.designs[design] ? runs.designs[design]->name : "as is";
  figure.what = coarse.what;
  figure.place = coarse.place;
  figure.unit = coarse.unit;
  figure.coarse = coarse.value;
  if (!runs.main.empty()) {
    figure.main = runs.main[design].figures[index].value;
    figure.factor = factor_between(runs.main[design].figures[index], coarse);
  }
  for (const std::vector<DrawnRun>& draw : runs.draws) {
    const Figure& drawn = draw[design].figures[index];
    // What had not ended is at least the simulated time, on any cells.
    figure.values.push_back(drawn.open ? drawn.value : drawn.value * figure.factor);
    figure.open.push_back(drawn.open);
  }
  figure.p10 = weighted_quantile(figure.values, weights, 0.1);
  figure.p50 = weighted_quantile(figure.values, weights, 0.5);
  figure.p90 = weighted_quantile(figure.values, weights, 0.9);
  figure.open_ended = quantile_is_open(figure.values, figure.open, weights, 0.9);
  for (const InputShare& one : shares_of_spread(values, figure.values, weights))
    figure.shares.push_back({one.share, one.partial});
  return figure;
}

// Soggy hours of the beds of a draw, corrected as those of areas are. Days without water are left: they come
// from the soil alone, which cells and method change little.
std::vector<results::BedRecord> corrected_beds(const DrawRuns& runs, std::size_t design,
                                               std::vector<results::BedRecord> beds) {
  for (std::size_t k = 0; !runs.main.empty() && k < beds.size(); ++k) {
    const results::BedRecord &main = runs.main[design].beds[k], &coarse = runs.likely[design].beds[k];
    beds[k].soggy_hours *=
        factor_between({"soggy_hours", main.name, "h", main.soggy_hours, main.still_soggy},
                       {"soggy_hours", main.name, "h", coarse.soggy_hours, coarse.still_soggy});
  }
  return beds;
}

// A record as far as a target is judged on it, with the hours as corrected.
results::DesignRecord judged_record(const PlausibleStudy& study, const DrawRuns& runs, std::size_t index,
                                    const std::string& design, std::size_t draw, double clear_within) {
  const DrawnRun& run = runs.draws[draw][index];
  results::DesignRecord record;
  record.name = design;
  record.beds = corrected_beds(runs, index, run.beds);
  record.season_beds = run.season_beds;
  record.time = {run.end};
  for (const PlausibleFigure& figure : study.figures) {
    if (figure.design != design || figure.what != "standing_hours") continue;
    results::AreaRecord area;
    area.name = figure.place;
    area.standing_hours_after_rain = figure.values[draw];
    area.still_standing = figure.open[draw] != 0;
    area.clear_within_target = !area.still_standing && figure.values[draw] * 3600 <= clear_within;
    record.areas.push_back(std::move(area));
  }
  return record;
}

// In which draws a design meets the target. agreed: a comparison with what was agreed, without designs.
PlausibleDesign judge(const PlausibleStudy& study, const DrawRuns& runs, std::size_t design,
                      results::Comparison agreed, const std::vector<std::vector<double>>& values) {
  PlausibleDesign judged;
  judged.name = runs.designs[design] ? runs.designs[design]->name : "as is";
  double all = 0;
  for (std::size_t draw = 0; draw < runs.draws.size(); ++draw) {
    const auto record = [&](std::size_t d, const std::string& name) {
      return judged_record(study, runs, d, name, draw, agreed.clear_within);
    };
    agreed.designs = {record(0, "as is")};
    const bool works = results::meets_target(agreed, record(design, judged.name));
    judged.works.push_back(works);
    judged.count += works;
    judged.share += works ? study.weights[draw] : 0;
    all += study.weights[draw];
  }
  judged.share /= all;
  const Flip flip = find_flip(values, judged.works);
  judged.flip = {flip.input, flip.value, flip.yes_above, flip.wrong};
  return judged;
}

} // namespace

double draw_cell(double main_cell, std::size_t cells, int draws) {
  const double affordable = std::sqrt((draws + 1) / cheaper);
  const double fine_enough = std::sqrt(static_cast<double>(cells) / least_cells);
  return main_cell * std::clamp(std::min(affordable, fine_enough), 1.0, coarsest);
}

PlausibleStudy plausible_soils(const site::Site& site, const terrain::Ground& coarse,
                               const results::Comparison* main, Executor& executor,
                               const PlausibleOptions& options) {
  PlausibleStudy study;
  const std::vector<UncertainInput> inputs = find_uncertain_inputs(site);
  if (options.draws <= 0 || inputs.empty()) return study;
  study.draws = options.draws;
  study.seed = options.seed;
  study.cell = coarse.grid.cell;
  study.method = options.method == surface::Method::routed ? "routed" : "dynamic";

  std::vector<std::vector<double>> values =
      stratified(options.draws, static_cast<int>(inputs.size()), options.seed);
  for (std::vector<double>& draw : values)
    for (std::size_t k = 0; k < inputs.size(); ++k) draw[k] = value_at(inputs[k], draw[k]);
  for (std::size_t k = 0; k < inputs.size(); ++k) {
    results::PlausibleInput input;
    input.key = inputs[k].key;
    input.name = inputs[k].name;
    input.dimension = dimension_of(inputs[k]);
    input.low = inputs[k].band.low, input.likely = inputs[k].band.likely, input.high = inputs[k].band.high;
    for (const std::vector<double>& draw : values) input.values.push_back(draw[k]);
    study.inputs.push_back(std::move(input));
  }

  const DrawRuns runs = run_draws(site, coarse, main, inputs, values, executor, options);
  study.runs = runs.runs;
  const auto add_time = [&](const std::vector<DrawnRun>& list) {
    for (const DrawnRun& run : list) study.seconds += run.seconds;
  };
  add_time(runs.likely);
  std::for_each(runs.draws.begin(), runs.draws.end(), add_time);
  for (std::size_t k = 0; k < runs.seen.size(); ++k)
    study.seen.push_back({runs.seen[k]->name, runs.seen[k]->lasted / 3600, runs.seen_hours[k]});
  study.weights = weigh_by_seen(study.seen, options.draws, study.notes);
  study.effective = effective_draws(study.weights);

  const results::Comparison agreed = describe(site, coarse, rain::make_hyetograph(site), "");
  for (std::size_t design = 0; design < runs.designs.size(); ++design) {
    for (std::size_t k = 0; k < runs.likely[design].figures.size(); ++k)
      study.figures.push_back(make_figure(runs, design, k, values, study.weights));
    study.designs.push_back(judge(study, runs, design, agreed, values));
  }
  for (std::string& note : quick_run_notes(study, main, site)) study.notes.push_back(std::move(note));
  if (const PlausibleFigure* answer = hours_to_narrow(study, runs.recommended))
    study.tests = next_tests(site, inputs, answer->shares,
                             std::sqrt(answer->p90 / std::max(answer->p10, 0.05 * answer->p90)));
  study.sentence = plausible_sentence(study, site, runs.recommended);
  return study;
}

} // namespace lowspot::study
