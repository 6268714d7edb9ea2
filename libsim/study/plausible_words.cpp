#include <lowspot/study/plausible_words.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/site/wording.hpp>
#include <lowspot/study/verdict.hpp>

namespace lowspot::study {
namespace {
using results::PlausibleDesign;
using results::PlausibleFigure;
using results::PlausibleStudy;

const PlausibleDesign* design_named(const PlausibleStudy& study, const std::string& name) {
  for (const PlausibleDesign& design : study.designs)
    if (design.name == name) return &design;
  return nullptr;
}

// Two significant digits in the unit it will be written in: it is known within a tenth at best.
double two_digits(double value, const results::PlausibleInput& input, const site::Site& site) {
  const bool feet = site.units == "ft";
  double unit = input.dimension == Dimension::length ? (feet ? 0.0254 : 0.001) : 1;
  if (input.dimension == Dimension::speed) unit = (feet ? 0.0254 : 0.001) / 3600;
  const double figure = value / unit;
  if (!(figure > 0)) return value;
  const double scale = std::pow(10, 1 - std::floor(std::log10(figure)));
  return std::round(figure * scale) / scale * unit;
}

// P10 and P90 of no more than these are but the least and the most of them.
constexpr int few_soils = 5;

std::string test_sentence(const PlausibleStudy& study, const std::string& recommended) {
  const PlausibleFigure* hours = hours_to_narrow(study, recommended);
  for (const results::NextTest& test : study.tests) {
    if (!test.next) continue;
    if (hours && hours->open_ended)
      return " The next cheapest test is " + test.name +
             ": it would narrow the hours; by how much is not known, since in some soils water outlasts the "
             "simulated time.";
    return " The next cheapest test is " + test.name +
           ": it would narrow the hours from within a factor of " + rounded(test.answer_now, 2) +
           " to within " + rounded(test.answer_then, 2) + ".";
  }
  return "";
}
// In what the runs of the soils and the main run were made otherwise; empty where in nothing that is known.
std::string made_otherwise(const PlausibleStudy& study, const results::Comparison* main,
                           const site::Site& site) {
  if (main == nullptr) return "";
  const auto cells = [&](double cell) { return "cells of " + site::written(cell, Dimension::length, site); };
  const auto way = [](const std::string& method) {
    return std::string(method == "routed" ? "water routed from pool to pool" : "water followed as it flows");
  };
  std::string soils, whole;
  if (study.cell > 1.001 * main->grid.cell) soils = cells(study.cell), whole = cells(main->grid.cell);
  if (study.method != main->method) {
    soils += (soils.empty() ? "" : " and ") + way(study.method);
    whole += (whole.empty() ? "" : " and ") + way(main->method);
  }
  return soils.empty()
             ? ""
             : " The soils were tried with " + soils + ", the main run was made with " + whole + ".";
}

// One figure as a note names it; empty for what no table shows.
std::string figure_name(const PlausibleFigure& figure) {
  const std::string of = " of '" + figure.place + "'", what = figure.what;
  std::string name;
  if (what == "peak_flow") name = "peak at the foot" + of;
  if (what == "drained_volume") name = "what the drain carries off";
  if (what == "longest_soggy_roots") name = "longest spell of soggy roots" + of;
  if (what == "days_below_half") name = "days with less than half of the water plants can use" + of;
  if (what == "season_days_below_half")
    name = "days of the dry spell with less than half of the water plants can use" + of;
  if (what == "season_lowest_available") name = "least water for plants in the dry spell" + of;
  if (what == "edge_volume") name = "what leaves over '" + figure.place + "'";
  return name.empty() ? "" : name + " (" + figure.design + ")";
}

// Hours are brought to the main run; the rest are as the quick runs have them, and may part from it.
std::string not_to_be_compared(const PlausibleStudy& study) {
  constexpr std::size_t most_named = 2;
  std::vector<std::string> names;
  for (const PlausibleFigure& figure : study.figures) {
    if (!std::isfinite(figure.main) || figure.factor != 1) continue;
    const double slack = 0.05 * std::max(std::abs(figure.main), std::abs(figure.coarse));
    const bool inside = figure.main >= figure.p10 - slack && figure.main <= figure.p90 + slack;
    const std::string name = inside ? "" : figure_name(figure);
    if (!name.empty()) names.push_back(name);
  }
  if (names.empty()) return "";
  std::string text = "Bands by quicker runs, not to be compared with the main run, which lies outside: ";
  for (std::size_t k = 0; k < std::min(names.size(), most_named); ++k) text += (k > 0 ? "; " : "") + names[k];
  if (names.size() > most_named) text += "; and " + std::to_string(names.size() - most_named) + " more";
  return text + ". Go by how wide they are, not by where they lie.";
}
} // namespace

std::vector<std::string> quick_run_notes(const PlausibleStudy& study, const results::Comparison* main,
                                         const site::Site& site) {
  constexpr double most_factor = 2, least_apart = 1; // h
  std::vector<std::string> notes, places;
  for (const PlausibleFigure& figure : study.figures) {
    if (figure.what != "standing_hours" || !std::isfinite(figure.main)) continue;
    const double low = std::min(figure.main, figure.coarse), high = std::max(figure.main, figure.coarse);
    if (high - low < least_apart || high < most_factor * low) continue;
    if (std::find(places.begin(), places.end(), figure.place) != places.end()) continue;
    places.push_back(figure.place);
    const bool coarser = main != nullptr && study.cell > 1.001 * main->grid.cell;
    notes.push_back("By the quick runs that these soils were tried with, " + place_name(figure.place) + " (" +
                    figure.design + ") stands " + plain_hours(figure.coarse) +
                    " in the likely soil, by the main run " + plain_hours(figure.main) +
                    ": go by the main run there." + made_otherwise(study, main, site) +
                    (coarser ? " Smaller cells (--cell) may bring the two nearer." : ""));
  }
  if (std::string text = not_to_be_compared(study); !text.empty()) notes.push_back(std::move(text));
  return notes;
}

bool is_weighted(const PlausibleStudy& study) {
  return std::any_of(study.weights.begin(), study.weights.end(),
                     [](double weight) { return std::abs(weight - 1) > 1e-9; });
}

std::string value_text(const results::PlausibleInput& input, double value, const site::Site& site) {
  return input.dimension ? site::written(value, *input.dimension, site) : rounded(value);
}

std::string works_phrase(const PlausibleDesign& design, int draws, bool weighted) {
  std::string text = "meets the target in " + std::to_string(design.count) + " of " + std::to_string(draws) +
                     " plausible soils";
  if (weighted)
    text += " (" + std::to_string(std::lround(100 * design.share)) + " % of their weight by what was seen)";
  return text;
}

std::string flip_phrase(const PlausibleDesign& design, const PlausibleStudy& study, const site::Site& site) {
  if (design.flip.input < 0) return "";
  const results::PlausibleInput& input = study.inputs[design.flip.input];
  std::string text = "fails where the " + input.name + " is " +
                     (design.flip.works_above ? "below " : "above ") +
                     value_text(input, two_digits(design.flip.value, input, site), site);
  if (design.flip.wrong > 0)
    text += ", with " + std::to_string(design.flip.wrong) +
            (design.flip.wrong == 1 ? " exception" : " exceptions") + " among the soils";
  return text;
}

std::string band_phrase(const PlausibleFigure& figure) {
  return hours_between(figure.p10, figure.p90, figure.open_ended);
}

const PlausibleFigure* hours_to_narrow(const PlausibleStudy& study, const std::string& recommended) {
  constexpr double least_middle = 1, least_spread = 1.2; // h; P90 over P10
  for (const std::string& design : {recommended, std::string("as is")}) {
    const PlausibleFigure* found = worst_standing(study, design);
    if (found && found->p90 > least_spread * found->p10 && found->p50 >= least_middle) return found;
  }
  return nullptr;
}

const PlausibleFigure* worst_standing(const PlausibleStudy& study, const std::string& design) {
  const PlausibleFigure* found = nullptr;
  for (const PlausibleFigure& figure : study.figures)
    if (figure.design == design && figure.what == "standing_hours" && (!found || figure.p50 > found->p50))
      found = &figure;
  return found;
}

namespace {
const PlausibleFigure* standing_at(const PlausibleStudy& study, const std::string& design,
                                   const std::string& place) {
  for (const PlausibleFigure& figure : study.figures)
    if (figure.design == design && figure.what == "standing_hours" && figure.place == place) return &figure;
  return nullptr;
}

// The place that stands longest with a design; where none stands much longer than the one that is worst as
// the yard is, that one: it is what the yard is mended for.
const PlausibleFigure* place_to_tell(const PlausibleStudy& study, const std::string& design) {
  constexpr double no_longer = 1; // h
  const PlausibleFigure *worst = worst_standing(study, design), *before = worst_standing(study, "as is");
  const PlausibleFigure* there = before ? standing_at(study, design, before->place) : nullptr;
  return there && worst->p50 - there->p50 < no_longer ? there : worst;
}
} // namespace

std::string plausible_sentence(const PlausibleStudy& study, const site::Site& site,
                               const std::string& recommended) {
  const PlausibleDesign* design = design_named(study, recommended.empty() ? "as is" : recommended);
  if (!design) return "";
  const bool as_is = design->name == "as is";
  std::string text = as_is
                         ? "As it is, the yard meets the target in " + std::to_string(design->count) +
                               " of " + std::to_string(study.draws) + " plausible soils"
                         : "'" + design->name + "' " + works_phrase(*design, study.draws, is_weighted(study));
  const std::string flips = flip_phrase(*design, study, site);
  if (!flips.empty()) text += "; it " + flips;
  text += ".";
  if (const PlausibleFigure* hours = place_to_tell(study, design->name)) {
    text += " " + place_name(hours->place) + " stands " + band_phrase(*hours) +
            (hours->p90 > 0 ? " after the rain" : "") +
            (study.draws > few_soils ? " in eight soils of ten" : " in these soils");
    const PlausibleFigure* before = as_is ? nullptr : standing_at(study, "as is", hours->place);
    if (before) text += "; as it is, " + band_phrase(*before);
    text += ".";
  }
  return text + test_sentence(study, recommended);
}

} // namespace lowspot::study
