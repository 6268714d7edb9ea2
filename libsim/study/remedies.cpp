#include <lowspot/study/remedies.hpp>

#include <algorithm>
#include <array>
#include <iterator>
#include <numeric>
#include <set>
#include <utility>

#include <lowspot/base/error.hpp>
#include <lowspot/checks/check_design.hpp>
#include <lowspot/results/target.hpp>
#include <lowspot/site/bed_target.hpp>
#include <lowspot/study/clog.hpp>
#include <lowspot/study/design_changes.hpp>
#include <lowspot/study/one_run.hpp>
#include <lowspot/study/progress_board.hpp>
#include <lowspot/study/side_by_side.hpp>
#include <lowspot/study/verdict.hpp>

namespace lowspot::study {
namespace {

constexpr double worth_saying = 0.25; // h: less is within what cells and steps leave uncertain
constexpr std::array<double, 3> clog_factors = {3, 10, 30};

double total(const Remedy& remedy) {
  return std::accumulate(remedy.hours.begin(), remedy.hours.end(), 0.0);
}

// Areas that still stand when the simulated time ends: their hours are but the least that they can be.
std::ptrdiff_t not_cleared(const Remedy& remedy) {
  return std::count(remedy.still_standing.begin(), remedy.still_standing.end(), true);
}

// What is left standing, the less the better.
std::pair<std::ptrdiff_t, double> left(const Remedy& remedy) {
  return {not_cleared(remedy), total(remedy)};
}

void take_figures(const std::vector<results::Standing>& places, Remedy& remedy) {
  for (const results::Standing& one : places) {
    remedy.hours.push_back(one.hours);
    remedy.still_standing.push_back(one.still);
  }
  remedy.clears =
      std::all_of(places.begin(), places.end(), [](const results::Standing& one) { return one.met; });
}

// Names of the checks that fail, by what they are about.
std::set<std::string> failing(const site::Site& site, const terrain::Ground& ground,
                              const site::Design& design) {
  std::set<std::string> names;
  for (const results::CheckRecord& record : checks::check_design(site, ground, design))
    if (record.outcome == results::CheckOutcome::fail)
      names.insert(record.name + (record.about.empty() ? "" : ", " + record.about));
  return names;
}

std::string joined(const std::vector<std::string>& names) {
  std::string text;
  for (const std::string& name : names) text += (text.empty() ? "" : "; ") + name;
  return text;
}

// How much clogging is borne: up to the first of the runs in which the target is missed.
std::string clogging_sentence(const Remedies& remedies) {
  if (remedies.nothing_clogs) return " It has neither stone nor fabric that could clog.";
  if (remedies.clogging.size() < clog_factors.size()) return "";
  const std::string target = remedies.beds_besides ? " The target for standing water" : " The target";
  if (!remedies.as_designed.clears) return target + " is missed even with nothing clogged yet.";
  const auto breaks = std::find_if(remedies.clogging.begin(), remedies.clogging.end(),
                                   [](const Remedy& one) { return !one.clears; });
  if (breaks == remedies.clogging.begin())
    return target + " is missed with no more than " + breaks->name + ".";
  const std::string borne = target + " is still met with " + std::prev(breaks)->name;
  return breaks == remedies.clogging.end() ? borne + "." : borne + ", and missed with " + breaks->name + ".";
}

} // namespace

void sort_changes(std::vector<Remedy>& changes) {
  std::stable_sort(changes.begin(), changes.end(), [](const Remedy& a, const Remedy& b) {
    if (a.not_possible.empty() != b.not_possible.empty()) return a.not_possible.empty();
    return left(a) < left(b);
  });
}

std::string remedies_sentence(const Remedies& remedies) {
  const auto hours = [](const Remedy& remedy) {
    const double most =
        remedy.hours.empty() ? 0 : *std::max_element(remedy.hours.begin(), remedy.hours.end());
    const bool still = std::find(remedy.still_standing.begin(), remedy.still_standing.end(), true) !=
                       remedy.still_standing.end();
    if (still) return std::string("to the end of the time simulated");
    return (most > 0 ? "for " : "") + plain_hours(most);
  };
  const bool all = remedies.stopped.empty();
  std::string text = (all ? "\"" : remedies.stopped + " \"") + remedies.design + "\" leaves water standing " +
                     hours(remedies.as_designed) + ".";
  // The first is the best of all, since they are sorted.
  const auto buys = [&](const Remedy& one) {
    const std::ptrdiff_t more_clear = not_cleared(remedies.as_designed) - not_cleared(one);
    return one.not_possible.empty() &&
           (more_clear > 0 || (more_clear == 0 && total(remedies.as_designed) - total(one) >= worth_saying));
  };
  const auto best = std::find_if(remedies.changes.begin(), remedies.changes.end(), buys);
  const auto sound = std::find_if(remedies.changes.begin(), remedies.changes.end(),
                                  [&](const Remedy& one) { return buys(one) && one.newly_fails.empty(); });
  const auto what_then = [&](const Remedy& one) {
    return one.name + ": water then stands " + hours(one) + (one.clears ? ", within the target" : "");
  };
  if (best == remedies.changes.end()) {
    if (not_cleared(remedies.as_designed) == 0 && total(remedies.as_designed) < worth_saying)
      return text + " There is nothing to shorten." + clogging_sentence(remedies);
    text += std::string(all ? " No single change" : " No change that was run") +
            (not_cleared(remedies.as_designed) > 0 ? " would let that dry within the time simulated."
                                                   : " would shorten that by a quarter of an hour.");
    return text + clogging_sentence(remedies);
  }
  text += all ? " What buys most" : " Of the changes that were run, what buys most";
  if (sound == best)
    text += " is " + what_then(*best) + ".";
  else if (sound == remedies.changes.end())
    text += " is " + what_then(*best) + "; but then fails: " + joined(best->newly_fails) + ".";
  else
    text += " of what breaks no limit that is kept now is " + what_then(*sound) + ". More would buy " +
            what_then(*best) + "; but then fails: " + joined(best->newly_fails) + ".";
  return text + clogging_sentence(remedies);
}

Remedies find_remedies(const site::Site& site, const terrain::Ground& ground, const catalog::Catalog& catalog,
                       const site::Design& design, const RemedyOptions& options) {
  // What the others are held against comes first, so that a stop leaves something to say.
  std::vector<DesignChange> jobs = {{"as_designed", "as designed", design},
                                    {"as_is", "the yard as it is", {}}};
  for (DesignChange& change : single_changes(catalog, design, site.units == "ft"))
    jobs.push_back(std::move(change));
  const std::size_t clogging = jobs.size();
  const bool clogs = what_can_clog(design).any();
  if (clogs)
    for (const double factor : clog_factors) jobs.push_back(clogged(design, factor, site));
  const std::set<std::string> fails_now = failing(site, ground, design);
  const rain::Hyetograph rain = rain::make_hyetograph(site);
  const int count = static_cast<int>(jobs.size());
  std::vector<Remedy> found(jobs.size());
  std::vector<char> finished(jobs.size(), 0); // not of bool: threads write neighbours
  ProgressBoard board(count, options.progress);
  Remedies remedies;
  const auto run = [&](int k) {
    RunSettings settings;
    settings.method = options.method;
    settings.figures_only = true;
    settings.progress = [&](double share) { board.update(k, share); };
    Remedy& remedy = found[k];
    remedy.id = jobs[k].id;
    remedy.name = jobs[k].name;
    const bool drained = jobs[k].id != "as_is";
    try {
      const results::DesignRecord record =
          run_one(site, ground, rain, drained ? &jobs[k].design : nullptr, {}, settings).record;
      const std::vector<results::Standing> places =
          results::standing_of(record, site.target.clear_within, rain.end_of_rain());
      take_figures(places, remedy);
      remedy.limited_by = limiting_member(record);
      if (k == 0)
        for (const results::Standing& one : places) remedies.areas.push_back(one.place);
      if (drained)
        for (const std::string& name : failing(site, ground, jobs[k].design))
          if (!fails_now.count(name)) remedy.newly_fails.push_back(name);
    } catch (const InputError& error) {
      if (jobs[k].id == "as_designed" || !drained) throw;
      remedy.not_possible = error.found;
    }
    finished[k] = 1;
  };
  try {
    run_side_by_side(count, options.threads, run);
  } catch (const Stopped&) {
    const auto done = std::count(finished.begin(), finished.end(), 1);
    if (!options.keep_finished || finished[0] == 0 || finished[1] == 0 || done < 3) throw;
    remedies.stopped =
        "Stopped by you after " + std::to_string(done) + " of " + std::to_string(count) + " runs.";
  }
  remedies.design = design.name;
  remedies.nothing_clogs = !clogs;
  remedies.beds_besides = site::judges_beds(site.target);
  remedies.as_designed = std::move(found[0]);
  remedies.as_is = std::move(found[1]);
  for (std::size_t k = 2; k < found.size(); ++k)
    if (finished[k] != 0)
      (k < clogging ? remedies.changes : remedies.clogging).push_back(std::move(found[k]));
  sort_changes(remedies.changes);
  remedies.sentence = remedies_sentence(remedies);
  return remedies;
}

} // namespace lowspot::study
