#include <lowspot/report/tune_words.hpp>

#include <algorithm>
#include <cmath>
#include <map>

#include <lowspot/base/text.hpp>
#include <lowspot/report/takeoff_table.hpp>
#include <lowspot/site/wording.hpp>
#include <lowspot/study/front.hpp>
#include <lowspot/study/limits_not_kept.hpp>
#include <lowspot/study/missed_hours.hpp>
#include <lowspot/study/verdict.hpp>

namespace lowspot::report {
namespace {

using results::Judged;
using results::Promise;
using study::Tried;
using study::Tuning;

std::string quoted(const Tried& tried) {
  return "'" + tried.candidate.name + "'";
}

std::string hours(double seconds) {
  return study::plain_hours(seconds / 3600);
}

std::string found_hours(const Judged& one) {
  if (!one.kept && one.open_ended && one.found > one.limit)
    return study::hours_at_least(one.found / 3600, true);
  return one.kept ? hours(one.found) : study::missed_plain_hours(one.found / 3600, one.limit / 3600);
}

// What is missing, to the next tenth of an inch or millimetre.
std::string at_least(double missing, const site::Site& site) {
  const Units units = units_for(site.units);
  const double mark = units.metric ? 1e-3 : 0.1 * 0.0254;
  return amount(std::ceil(missing / mark - 1e-6) * mark, units.depth, 3);
}

std::string promise_words(const Judged& one) {
  const std::string place = one.place.rfind("the ", 0) == 0 ? one.place : "'" + one.place + "'";
  switch (one.promise) {
  case Promise::standing:
    return place + (one.open_ended
                        ? " still stands when the simulated time ends"
                        : " stands " + found_hours(one) + (one.found > 0 ? " after the rain" : ""));
  case Promise::soggy_bed:
    return place + " has its roots in full ground for " + found_hours(one) +
           (one.open_ended ? ", and still so when the simulated time ends" : "");
  case Promise::dry_bed:
    return place + " is short of water for " + found_hours(one);
  }
  return "";
}

// The promise missed by the largest share of its limit; null: all are kept.
const Judged* worst_miss(const Tried& tried) {
  const Judged* worst = nullptr;
  const auto share = [](const Judged& one) {
    return (one.open_ended ? 1e6 : 0) + one.found / std::max(1.0, one.limit);
  };
  for (const Judged& one : tried.judged)
    if (!one.kept && (!worst || share(one) > share(*worst))) worst = &one;
  return worst;
}

const Judged* longest_standing(const Tried& tried) {
  const Judged* longest = nullptr;
  for (const Judged& one : tried.judged)
    if (one.promise == Promise::standing && (!longest || one.found > longest->found)) longest = &one;
  return longest;
}

std::string change_words(double from, double to) {
  return from > 0 ? rounded(100 * (to - from) / from, 2) + " %" : "";
}

std::string many(std::size_t count, const std::string& what) {
  return std::to_string(count) + " " + what + (count == 1 ? "" : "s");
}

// "None of the 8 combinations does it." or "The one combination to be tried does not do it."
std::string none_of(std::size_t count, const std::string& does, const std::string& does_not) {
  return count == 1 ? "The one combination to be tried " + does_not + "."
                    : "None of the " + many(count, "combination") + " " + does + ".";
}

// The combination that comes nearest to keeping every promise.
const Tried* nearest_miss(const Tuning& tuning) {
  const Tried* nearest = nullptr;
  double least = 1e300;
  for (const Tried& tried : tuning.tried) {
    if (!tried.full || tried.works) continue;
    double most = 0;
    for (const Judged& one : tried.judged)
      most = std::max(most, (one.open_ended ? 10 : 0) + one.found / std::max(3600.0, one.limit));
    if (most >= least) continue;
    least = most;
    nearest = &tried;
  }
  return nearest;
}

std::string member_advice(const std::string& member) {
  static const std::map<std::string, std::string> advice = {
      {"cap", "what lies over the stone holds it back: try a more open cap"},
      {"fabric", "soil and fabric let too little through: more length or an open cap would, depth hardly"},
      {"stone", "the stone passes too little along it: try a wider trench or coarser stone"},
      {"slots", "the openings of the pipe hold it back: try a pipe with more of them"},
      {"pipe", "the pipe runs full: try a larger one, or more fall"},
      {"outlet", "the outlet holds it back: a lower or larger one would help"},
  };
  const auto known = advice.find(member);
  return known == advice.end() ? "the drain is not what holds it back: look at where the water comes from"
                               : known->second;
}

} // namespace

Unit dig_unit(const site::Site& site) {
  return site.units == "m" ? Unit{1, "m³"} : Unit{0.764554857984, "cu yd"};
}

std::string size_words(const site::Site& site, const study::Works& works) {
  const std::string dig = amount(works.dig, dig_unit(site), 3) + " to dig";
  if (!std::isfinite(works.cost)) return dig;
  return price_text(sum_figure(works.cost), site) +
         (works.without_price > 0
              ? " and " + many(static_cast<std::size_t>(works.without_price), "item") + " without a price"
              : "") +
         ", " + dig;
}

std::string failure_words(const Tried& tried) {
  if (!tried.candidate.can_be_built()) return tried.candidate.refused;
  const Judged* miss = tried.works ? nullptr : worst_miss(tried);
  if (!miss) return "";
  return promise_words(*miss) + "; agreed was at most " + hours(miss->limit);
}

std::string tune_headline(const site::Site& site, const Tuning& tuning) {
  std::string text;
  if (tuning.as_is_works) text = "As it is, the yard already keeps what was agreed: no drain is needed. ";
  if (tuning.smallest < 0) {
    const auto built = static_cast<std::size_t>(
        std::count_if(tuning.tried.begin(), tuning.tried.end(),
                      [](const Tried& tried) { return tried.candidate.can_be_built(); }));
    if (built == 0) return text + none_of(tuning.tried.size(), "can be built here", "cannot be built here");
    text += none_of(tuning.tried.size(), "does it", "does not do it");
    if (const Tried* nearest = nearest_miss(tuning))
      text += (tuning.tried.size() == 1 ? " It is " : " The nearest is ") + quoted(*nearest) + " (" +
              size_words(site, nearest->candidate.works) + "): " + failure_words(*nearest) + ".";
    return text;
  }
  const Tried& best = tuning.tried[tuning.smallest];
  const std::string misses = study::not_kept_words(tuning.limits_not_kept);
  text += misses.empty()
              ? "The smallest that does it is " + quoted(best) + ": "
              : "The smallest that moves the water is " + quoted(best) + ", but " + misses + ". It takes ";
  text += size_words(site, best.candidate.works) + "; " + promise_words(*longest_standing(best)) + ".";
  if (tuning.smallest == 0) return text + " Nothing smaller was to be tried.";
  const Tried& next = tuning.tried[tuning.smallest - 1];
  const std::string why = failure_words(next);
  if (why.empty()) return text; // it was not run in full: nothing is known against it
  return text + " The next smaller, " + quoted(next) + " (" + size_words(site, next.candidate.works) + "), " +
         (next.candidate.can_be_built() ? "fails because " : "cannot be built: ") + why + ".";
}

std::vector<std::string> step_words(const site::Site& site, const Tuning& tuning) {
  std::vector<std::string> steps;
  const Tried* before = nullptr;
  if (tuning.knee >= 0)
    steps.push_back("The curve bends at " + quoted(tuning.tried[tuning.knee]) + " (" +
                    size_words(site, tuning.tried[tuning.knee].candidate.works) +
                    "): up to it each step buys much, beyond it little.");
  for (const Tried& tried : tuning.tried) {
    if (!tried.on_front) continue;
    if (before) {
      const double gained = study::hours_of(*before->best()) - study::hours_of(*tried.best());
      const double more = study::size_of(tried) - study::size_of(*before);
      const bool priced = std::isfinite(tried.candidate.works.cost);
      const std::string what = priced ? price_text(sum_figure(more), site) + " more"
                                      : amount(more, dig_unit(site), 2) + " more to dig";
      const std::string share = change_words(study::size_of(*before), study::size_of(tried));
      steps.push_back("From " + quoted(*before) + " to " + quoted(tried) + ": " + what +
                      (share.empty() ? "" : " (" + share + ")") + " buys " + study::plain_hours(gained) +
                      (tried.full && before->full ? "." : ", by the quick look."));
    }
    before = &tried;
  }
  return steps;
}

std::vector<std::string> stop_words(const site::Site& site, const Tuning& tuning) {
  std::vector<std::string> words;
  std::map<std::string, std::vector<const Tried*>> refused;
  std::size_t standing = 0, soggy = 0, dry = 0;
  for (const Tried& tried : tuning.tried) {
    if (!tried.candidate.can_be_built()) refused[tried.candidate.limit].push_back(&tried);
    const Judged* miss = tried.candidate.can_be_built() && !tried.works ? worst_miss(tried) : nullptr;
    if (!miss) continue;
    ++(miss->promise == Promise::standing ? standing : miss->promise == Promise::soggy_bed ? soggy : dry);
  }
  for (const auto& [limit, those] : refused) {
    const Tried* nearest = those.front();
    for (const Tried* tried : those)
      if (tried->candidate.missed_by < nearest->candidate.missed_by) nearest = tried;
    std::string text = many(those.size(), "combination") + " cannot be built (" + limit + "). " +
                       (those.size() > 1 ? "The nearest, " : "It is ") + quoted(*nearest) + ": " +
                       nearest->candidate.refused + ".";
    if (limit == "cover" || limit == "trench depth")
      text +=
          " " + at_least(nearest->candidate.missed_by, site) +
          (limit == "cover" ? " more ground over it would let it through." : " less would let it through.");
    if (limit == "fall") text += " A lower outlet, or a shallower head, would let it through.";
    words.push_back(text);
  }
  if (tuning.smallest >= 0) return words;
  const auto stopped = [&](std::size_t count, const std::string& by) {
    if (count > 0) words.push_back(many(count, "combination") + (count == 1 ? " fails" : " fail") + by);
  };
  stopped(standing, " because water stands too long.");
  stopped(soggy, " because a bed stays soggy too long.");
  stopped(dry, " because a bed gets short of water.");
  if (const Tried* nearest = nearest_miss(tuning)) {
    const Judged* miss = worst_miss(*nearest);
    std::string text = "What would help most, seen from the nearest: ";
    text += miss && miss->promise == Promise::dry_bed
                ? "the drain takes water that the bed lives on: move it away from the bed, or agree on more."
                : member_advice(study::limiting_member(*nearest->full)) + ".";
    words.push_back(text);
  }
  return words;
}

std::string method_words(const site::Site& site, const Tuning& tuning) {
  const auto full = static_cast<std::size_t>(std::count_if(
      tuning.tried.begin(), tuning.tried.end(), [](const Tried& tried) { return tried.full.has_value(); }));
  const auto built = static_cast<std::size_t>(
      std::count_if(tuning.tried.begin(), tuning.tried.end(),
                    [](const Tried& tried) { return tried.candidate.can_be_built(); }));
  const std::string whole = many(tuning.tried.size(), "combination");
  if (built == 0) return "Nothing was run: no figure here says what a drain would do.";
  const auto were = [](std::size_t count) { return std::string(count == 1 ? " was" : " were"); };
  if (!tuning.quick_used && built == tuning.tried.size() && built > 1)
    return "All " + whole + were(built) + " run in full.";
  if (!tuning.quick_used)
    return "Of " + whole + ", " + std::to_string(built) + " can be built and" + were(built) + " run in full.";
  const auto of = [&](double seconds) { return rounded(seconds / 3600, 2) + " h"; };
  std::string text = "Of " + whole + ", " + std::to_string(built) +
                     " can be built and had a quick look (water routed from "
                     "pool to pool, cells of " +
                     site::written(tuning.quick_cell, Dimension::length, site) + "); " +
                     std::to_string(full) + were(full) + " run in full (cells of " +
                     site::written(tuning.full_cell, Dimension::length, site) + ").";
  if (tuning.error.runs == 0) return text;
  text += " In the " + many(static_cast<std::size_t>(tuning.error.runs), "case") +
          " run both ways, the yard as it is among them, the quick look was off by up to " +
          of(tuning.error.standing) + " of standing water";
  if (tuning.error.soggy_bed > 0) text += ", " + of(tuning.error.soggy_bed) + " of soggy roots";
  if (tuning.error.dry_bed > 0) text += ", " + of(tuning.error.dry_bed) + " of thirst";
  return text +
         ". The answer is that of running all in full unless it errs elsewhere by more than twice that.";
}

std::string dig_text(const site::Site& site, const Tried& tried) {
  const double dig = tried.candidate.works.dig;
  return dig > 0 || tried.candidate.can_be_built() ? amount(dig, dig_unit(site), 3) : "\u2013";
}

std::string cost_note(const site::Site& site, const Tuning& tuning) {
  if (site.ordering.rates.empty() || tuning.by_cost) return "";
  return "Costs are not shown: your prices leave out items of some combinations that they have for others, "
         "so "
         "the sums could not be set side by side, and the size is what is dug. Give each item that changes, "
         "such as every pipe and cap of [tune], a [[rate]] of its own.";
}

bool any_run(const Tuning& tuning) {
  return std::any_of(tuning.tried.begin(), tuning.tried.end(),
                     [](const Tried& tried) { return tried.best() != nullptr; });
}

std::string limits_note() {
  return "Of the one named, limits that need no run are looked at here. What leaves over each side of the "
         "yard, how full "
         "the pipes run and how soon a well is empty again is held against its limits by lowspot compare.";
}

std::string stop_heading(const Tuning& tuning) {
  return tuning.smallest >= 0       ? "What stops the others"
         : tuning.tried.size() == 1 ? "What stops it"
                                    : "What stops them";
}

} // namespace lowspot::report
