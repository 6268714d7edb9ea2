#include <lowspot/study/year_later.hpp>

#include <algorithm>
#include <cmath>
#include <memory>

#include <nlohmann/json.hpp>

#include <lowspot/base/error.hpp>
#include <lowspot/base/limits.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/results/side_flows.hpp>
#include <lowspot/study/ailments.hpp>
#include <lowspot/study/draws.hpp>
#include <lowspot/study/one_run.hpp>
#include <lowspot/study/seen_weights.hpp>
#include <lowspot/study/spread.hpp>
#include <lowspot/study/verdict.hpp>

namespace lowspot::study {
namespace {
using Json = nlohmann::ordered_json;

constexpr double trickle = 1e-6; // m3/s: a litre in a quarter of an hour is not seen to run
constexpr double shortest = 0.5; // h, in ratios
// Misfit of an outlet that does otherwise, in squared scatters of the hours. That it was seen to run is a
// fact: a cause with which it stays dry has to fit hours better by a factor of 1.5 to the fifth, nearly
// eight, to be named all the same. That it was not seen to run says less, since it may have run at an hour
// when nobody looked.
constexpr double seen_to_run = 25, not_seen_to_run = 4;

struct Lean {
  std::vector<double> hours;
  std::vector<char> open;
  bool outlet_ran = false;
};

Lean lean(const results::DesignRecord& record, const std::vector<Stood>& stood) {
  Lean result;
  for (const Stood& seen : stood)
    for (const results::AreaRecord& area : record.areas)
      if (area.name == seen.area) {
        result.hours.push_back(area.standing_hours_after_rain);
        result.open.push_back(area.still_standing);
      }
  const double volume = results::volume_by_outlets(record);
  double peak = 0;
  for (const results::DrainRecord& run : record.drains) peak = std::max(peak, run.peak_flow);
  // Flow within the pipe is none at the outlet while nothing leaves.
  result.outlet_ran = volume > 1e-3 && peak > trickle;
  return result;
}

void check_areas(const site::Site& site, const std::vector<Stood>& stood) {
  std::vector<std::string> names;
  for (const site::Area& area : site.areas) names.push_back(area.name);
  for (const Stood& seen : stood) {
    if (std::find(names.begin(), names.end(), seen.area) != names.end()) continue;
    const std::string near = nearest(seen.area, names);
    throw InputError({site.file.string(), 0, "--stood"}, "'" + seen.area + "'", "the name of an [[area]]",
                     near.empty() ? "look at the names in the site file" : "did you mean '" + near + "'?");
  }
}

// How long the yard is followed after the rain [s]: by the site file, and long enough to tell a cause with
// which water stands much longer than was seen from one that fits.
double dry_time(const site::Site& site, const YearLaterQuestion& question) {
  double dry = site.storm.dry;
  for (const Stood& one : question.stood) dry = std::max(dry, seen_followed * one.hours * 3600);
  return std::max(site.storm.dry, std::min(dry, limits::longest_time - question.rain.end_of_rain()));
}

double misfit_of(const Lean& run, const YearLaterQuestion& question) {
  double misfit = 0;
  for (std::size_t k = 0; k < question.stood.size(); ++k) {
    const double off =
        std::log(std::max(run.hours[k], shortest) / std::max(question.stood[k].hours, shortest)) /
        std::log(1.5);
    misfit += off * off;
  }
  if (question.outlet_ran && *question.outlet_ran != run.outlet_ran)
    misfit += *question.outlet_ran ? seen_to_run : not_seen_to_run;
  return misfit;
}

// Runs `count` yards side by side. What a stop leaves out is empty, and the answer then says `stopped`.
std::vector<std::optional<Lean>>
run_all(int count, const YearLaterQuestion& question, Executor& executor, const terrain::Ground& ground,
        const std::string& what, YearLater& answer,
        const std::function<std::pair<const site::Site*, const site::Design*>(
            int index, std::unique_ptr<site::Site>& held)>& yard_of) {
  std::vector<std::optional<Lean>> found(static_cast<std::size_t>(count));
  Jobs jobs;
  jobs.count = count;
  jobs.progress = question.progress;
  jobs.run = [&](int k, const std::function<void(double)>& report) {
    std::unique_ptr<site::Site> held;
    const auto [site, design] = yard_of(k, held);
    RunSettings settings;
    settings.method = question.method;
    settings.figures_only = settings.few_stops = true;
    settings.progress = report;
    const Lean one = lean(run_one(*site, ground, question.rain, design, {}, settings).record, question.stood);
    return Json{one.hours, one.open, one.outlet_ran}.dump();
  };
  jobs.sink = [&](int k, const std::string& text) {
    const Json one = Json::parse(text);
    found[static_cast<std::size_t>(k)] =
        Lean{one[0].get<std::vector<double>>(), one[1].get<std::vector<char>>(), one[2]};
  };
  try {
    executor.run(jobs);
  } catch (const Stopped&) {
    if (!question.keep_finished || !executor.leads()) throw;
    const auto done =
        std::count_if(found.begin(), found.end(), [](const auto& one) { return one.has_value(); });
    answer.stopped =
        "Stopped by you after " + std::to_string(done) + " of " + std::to_string(count) + " " + what + ".";
  }
  return found;
}

void judge(YearLater& answer, const YearLaterQuestion& question, const std::vector<Lean>& soils) {
  const std::vector<double> equal(soils.size(), 1.0);
  for (std::size_t k = 0; k < question.stood.size(); ++k) {
    std::vector<double> hours;
    std::vector<char> open;
    for (const Lean& soil : soils) {
      hours.push_back(soil.hours[k]);
      open.push_back(soil.open[k]);
    }
    PromisedHours promised{question.stood[k].area,
                           question.stood[k].hours,
                           weighted_quantile(hours, equal, 0.1),
                           weighted_quantile(hours, equal, 0.5),
                           weighted_quantile(hours, equal, 0.9),
                           quantile_is_open(hours, open, equal, 0.9),
                           true};
    const double allowed = std::max(1.0, 0.1 * promised.seen);
    promised.inside = promised.seen >= promised.p10 - allowed &&
                      (promised.open_ended || promised.seen <= promised.p90 + allowed);
    answer.as_promised = answer.as_promised && promised.inside;
    answer.hours.push_back(promised);
  }
  double ran = 0;
  for (const Lean& soil : soils) ran += soil.outlet_ran;
  answer.outlet_share = ran / static_cast<double>(soils.size());
  if (!question.outlet_ran) return;
  // One soil in ten may do otherwise and still be what was promised.
  answer.outlet_as_promised = *question.outlet_ran ? answer.outlet_share > 0.1 : answer.outlet_share < 0.9;
  answer.as_promised = answer.as_promised && answer.outlet_as_promised;
}

// What even the best of the causes leaves open: an area that it misses by more than half of what was seen.
std::string still_off(const YearLater& answer, const Cause& best) {
  for (std::size_t k = 0; k < answer.hours.size() && k < best.hours.size(); ++k) {
    const double seen = answer.hours[k].seen;
    if (std::abs(best.hours[k] - seen) <= std::max(1.0, 0.5 * seen)) continue;
    const std::string would = answer.hours[k].area + "' would stand " + standing_words(best, k) + ", not " +
                              plain_hours(seen) + ": ";
    if (best.hours[k] > seen)
      return " With all that was tried of it '" + would + "it is less far gone than that.";
    return " But even so '" + would +
           "it is worse than was tried, or more than one thing is the matter, or it is not "
           "rain alone.";
  }
  return "";
}

// Within an hour of what was seen, or the factor by which a memory is taken to scatter.
bool fits_hours(const YearLater& answer, const Cause& cause) {
  for (std::size_t k = 0; k < answer.hours.size() && k < cause.hours.size(); ++k) {
    const double seen = std::max(answer.hours[k].seen, shortest), would = std::max(cause.hours[k], shortest);
    if (std::abs(would - seen) > 1 && std::max(would / seen, seen / would) > 1.5) return false;
  }
  return true;
}

bool fits_outlet(const YearLaterQuestion& question, const Cause& cause) {
  return !question.outlet_ran || *question.outlet_ran == cause.outlet_ran;
}

std::string named(const Cause& cause) {
  return cause.name.empty() ? "the drain as it was built" : cause.name + " (" + cause.severity + ")";
}

// "'bed' would stand about 18 hours, seen were about 30 hours"
std::string hours_of_cause(const YearLater& answer, const Cause& cause) {
  std::string text;
  for (std::size_t k = 0; k < answer.hours.size() && k < cause.hours.size(); ++k)
    text += (text.empty() ? "'" : "; '") + answer.hours[k].area + "' would stand " +
            standing_words(cause, k) + ", seen were " + plain_hours(answer.hours[k].seen);
  return text;
}

// Hours and outlet ask for different causes: the nearest for each. Empty where one cause has both, or where
// the best has the outlet.
std::string no_cause_for_both(const YearLater& answer, const YearLaterQuestion& question) {
  const std::vector<Cause>& causes = answer.causes;
  if (!question.outlet_ran || answer.hours.empty() || fits_outlet(question, causes.front())) return "";
  const auto both = [&](const Cause& cause) {
    return fits_outlet(question, cause) && fits_hours(answer, cause);
  };
  if (std::any_of(causes.begin(), causes.end(), both)) return "";
  const auto hours_off = [&](const Cause& cause) {
    return cause.misfit - (fits_outlet(question, cause) ? 0
                           : *question.outlet_ran       ? seen_to_run
                                                        : not_seen_to_run);
  };
  const auto nearest = std::min_element(causes.begin(), causes.end(), [&](const Cause& a, const Cause& b) {
    return hours_off(a) < hours_off(b);
  });
  const auto dry_or_wet = std::find_if(causes.begin(), causes.end(),
                                       [&](const Cause& cause) { return fits_outlet(question, cause); });
  std::string text =
      "No cause that was tried fits both the hours and the outlet. Nearest to the hours: " + named(*nearest) +
      ": " + hours_of_cause(answer, *nearest) + ", and the outlet would " +
      (nearest->outlet_ran ? "run. " : "stay dry. ");
  if (!nearest->check.empty()) text += nearest->check + " ";
  if (dry_or_wet == causes.end())
    return text + "At the severities that fit best, the outlet " +
           (*question.outlet_ran ? "runs" : "stays dry") + " with none of them.";
  text += std::string("Nearest of those with which the outlet ") +
          (*question.outlet_ran ? "runs: " : "stays dry: ") + named(*dry_or_wet) + ": " +
          hours_of_cause(answer, *dry_or_wet) + "." +
          (dry_or_wet->check.empty() ? "" : " " + dry_or_wet->check);
  return text + " It may be more than one thing.";
}

void say(YearLater& answer, const YearLaterQuestion& question) {
  if (!answer.stopped.empty()) answer.sentences.push_back(answer.stopped);
  for (const PromisedHours& one : answer.hours) {
    std::string text =
        "'" + one.area + "' stood " + (one.seen > 0 ? plain_hours(one.seen) : "only while it rained") + ": ";
    if (one.inside)
      text += "as promised, which is ";
    else
      text += one.seen > one.p90 ? "longer than promised, which is " : "shorter than promised, which is ";
    text += one.p90 <= 0 && !one.open_ended
                ? "no standing water after this rain."
                : hours_between(one.p10, one.p90, one.open_ended) + " in this rain.";
    answer.sentences.push_back(text);
  }
  if (!answer.hours.empty() && question.method == surface::Method::routed)
    answer.sentences.emplace_back("The hours of this band are those of quick runs; a band that was promised "
                                  "with a comparison was scaled "
                                  "to its main runs, by a half to twice.");
  if (question.outlet_ran) {
    const bool several = question.design != nullptr && question.design->outlets.size() > 1;
    std::string text = *question.outlet_ran ? (several ? "An outlet ran" : "The outlet ran")
                       : several            ? "No outlet ran"
                                            : "The outlet did not run";
    text += !answer.outlet_as_promised ? ", against what was promised for this rain."
            : *question.outlet_ran     ? ", as it should have in this rain."
                                       : ", as was to be expected in this rain.";
    answer.sentences.push_back(text);
  }
  if (answer.causes.empty()) return;
  const Cause& best = answer.causes.front();
  if (const std::string two = no_cause_for_both(answer, question); !two.empty())
    answer.sentences.push_back(two);
  else if (best.name.empty())
    answer.sentences.emplace_back(
        std::string(answer.stopped.empty() ? "No cause looked at" : "No cause that was run") +
        " fits better than the drain as it was built: look again at what was "
        "seen, at the rain, and for water that is not rain.");
  else
    answer.sentences.push_back(
        std::string(answer.stopped.empty() ? "What fits best: " : "What fits best of what was run: ") +
        best.name + " (" + best.severity + "). " + best.check + still_off(answer, best));
}
} // namespace

YearLater compare_with_promise(const site::Site& site, const terrain::Ground& ground,
                               const YearLaterQuestion& question, Executor& executor) {
  check_areas(site, question.stood);
  site::Site whole = site; // all of the rain that fell, whatever end a run of the site's own storm has
  whole.run.until = site::not_given;
  whole.storm.dry = dry_time(site, question);
  YearLater answer;
  answer.design = question.design->name;
  answer.rain_depth = question.rain.depth();
  answer.seed = question.seed;
  const std::vector<UncertainInput> inputs = find_uncertain_inputs(site);
  answer.draws = inputs.empty() ? 0 : question.draws;
  std::vector<std::vector<double>> values;
  if (answer.draws > 0) values = stratified(answer.draws, static_cast<int>(inputs.size()), question.seed);
  const std::vector<std::optional<Lean>> run =
      run_all(std::max(1, answer.draws), question, executor, ground, "soils", answer,
              [&](int k, std::unique_ptr<site::Site>& held) {
                if (values.empty())
                  return std::pair<const site::Site*, const site::Design*>(&whole, question.design);
                std::vector<double> drawn;
                for (std::size_t i = 0; i < inputs.size(); ++i)
                  drawn.push_back(value_at(inputs[i], values[k][i]));
                held = std::make_unique<site::Site>(with_values(whole, inputs, drawn));
                return std::pair<const site::Site*, const site::Design*>(
                    held.get(), same_design(*held, site, question.design));
              });
  std::vector<Lean> soils;
  for (const std::optional<Lean>& one : run)
    if (one) soils.push_back(*one);
  if (!answer.stopped.empty()) {
    if (static_cast<int>(soils.size()) < least_band) throw Stopped{};
    answer.draws = static_cast<int>(soils.size());
  }
  judge(answer, question, soils);
  if (!answer.as_promised && answer.stopped.empty()) {
    std::vector<Ailment> ailments = ailments_of(whole, *question.design, ground);
    ailments.insert(ailments.begin(), Ailment{"", "", "", whole, *question.design});
    const std::vector<std::optional<Lean>> found = run_all(
        static_cast<int>(ailments.size()), question, executor, ground, "causes", answer,
        [&](int k, std::unique_ptr<site::Site>&) {
          return std::pair<const site::Site*, const site::Design*>(&ailments[k].site, &ailments[k].design);
        });
    for (std::size_t k = 0; k < ailments.size() && found.front(); ++k)
      if (found[k])
        answer.causes.push_back({ailments[k].name, ailments[k].severity, ailments[k].check, found[k]->hours,
                                 found[k]->open, found[k]->outlet_ran, misfit_of(*found[k], question)});
    std::stable_sort(answer.causes.begin(), answer.causes.end(),
                     [](const Cause& a, const Cause& b) { return a.misfit < b.misfit; });
    // Each cause once, at the severity that fits best.
    std::vector<Cause> once;
    for (Cause& cause : answer.causes)
      if (std::none_of(once.begin(), once.end(),
                       [&](const Cause& other) { return other.name == cause.name; }))
        once.push_back(std::move(cause));
    answer.causes = std::move(once);
  }
  say(answer, question);
  return answer;
}

std::string standing_words(const Cause& cause, std::size_t area) {
  return hours_at_least(cause.hours[area], area < cause.open.size() && cause.open[area] != 0);
}

std::string year_later_json(const YearLater& answer, const std::string& site_name,
                            const std::string& version) {
  Json hours = Json::array(), causes = Json::array();
  for (const PromisedHours& one : answer.hours)
    hours.push_back({{"area", one.area},
                     {"seen_hours", one.seen},
                     {"p10", one.p10},
                     {"p50", one.p50},
                     {"p90", one.p90},
                     {"p90_open_ended", one.open_ended},
                     {"inside", one.inside}});
  for (const Cause& one : answer.causes)
    causes.push_back({{"cause", one.name.empty() ? "as built" : one.name},
                      {"severity", one.severity},
                      {"check", one.check},
                      {"standing_hours", one.hours},
                      {"still_standing", std::vector<bool>(one.open.begin(), one.open.end())},
                      {"outlet_ran", one.outlet_ran},
                      {"misfit", one.misfit}});
  return Json{{"schema", "lowspot-yearlater-1"},
              {"version", version},
              {"site", site_name},
              {"design", answer.design},
              {"rain_m", answer.rain_depth},
              {"draws", answer.draws},
              {"seed", answer.seed},
              {"as_promised", answer.as_promised},
              {"hours", hours},
              {"outlet_runs_in_share_of_soils", answer.outlet_share},
              {"outlet_as_promised", answer.outlet_as_promised},
              {"causes", causes},
              {"stopped", answer.stopped},
              {"sentences", answer.sentences}}
             .dump(2, ' ', false, Json::error_handler_t::replace) +
         "\n";
}

} // namespace lowspot::study
