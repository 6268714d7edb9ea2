#include <lowspot/study/tune.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/base/error.hpp>
#include <lowspot/checks/check_design.hpp>
#include <lowspot/rain/hyetograph.hpp>
#include <lowspot/study/describe.hpp>
#include <lowspot/study/front.hpp>
#include <lowspot/study/limits_not_kept.hpp>
#include <lowspot/study/one_run.hpp>
#include <lowspot/study/record_text.hpp>
#include <lowspot/study/run_key.hpp>
#include <lowspot/terrain/reshape.hpp>

namespace lowspot::study {
namespace {

using results::Judged;
using results::Promise;

constexpr double least_doubt = 900; // s: finer than any answer is given
constexpr double error_factor = 2;
constexpr int few = 4;           // combinations that are not worth a quick look
constexpr std::size_t batch = 4; // full runs between two looks at what is still open; the same on any machine
constexpr int most_front = 8;    // points of the curve that are run in full

class Search {
public:
  Search(const site::Site& site, const terrain::Ground& ground, Executor& executor,
         const TuneOptions& options)
      : site_(site), ground_(ground), executor_(executor), options_(options),
        rain_(rain::make_hyetograph(site)) {}

  Tuning run();

private:
  void make_candidates();
  void quick_look();
  void run_in_full(std::vector<int> which);
  std::vector<std::string> run_all(const std::vector<const site::Design*>& designs, bool quick,
                                   const std::string& doing);
  std::vector<Judged> judge_of(const results::DesignRecord& as_is, const results::DesignRecord& record) const;
  void measure_error();
  bool could_work(const Tried& tried) const;
  double error_of(Promise promise) const;
  void find_smallest();
  std::vector<int> still_open() const;
  std::vector<int> before_smallest() const;
  void settle();
  void confirm_curve();

  const site::Site& site_;
  const terrain::Ground& ground_;
  Executor& executor_;
  const TuneOptions& options_;
  const rain::Hyetograph rain_;
  results::DesignRecord as_is_quick_;
  Tuning tuning_;
};

void Search::make_candidates() {
  const site::Design& design = tuned_design(site_);
  const terrain::Ground shaped = terrain::ground_of(site_, ground_, design);
  for (const Choice& choice : all_choices(site_)) {
    Tried tried;
    tried.candidate = make_candidate(site_, shaped, choice);
    tuning_.tried.push_back(std::move(tried));
  }
  tuning_.by_cost = priced_alike(tuning_.tried);
  if (!tuning_.by_cost) // sums that leave out different items are no measure
    for (Tried& tried : tuning_.tried) {
      tried.candidate.works.cost = job::unpriced;
      tried.candidate.works.without_price = 0;
    }
  std::stable_sort(tuning_.tried.begin(), tuning_.tried.end(),
                   [](const Tried& a, const Tried& b) { return smaller(a.candidate, b.candidate); });
}

// Texts of the runs, in order; null is the yard as it is.
std::vector<std::string> Search::run_all(const std::vector<const site::Design*>& designs, bool quick,
                                         const std::string& doing) {
  const terrain::Ground& ground = quick && options_.quick_ground ? *options_.quick_ground : ground_;
  const surface::Method method = quick ? surface::Method::routed : surface::Method::dynamic;
  std::vector<std::string> keys, texts(designs.size());
  for (const site::Design* design : designs)
    keys.push_back(run_key(options_.study, design, ground.grid.cell, quick ? "routed" : "dynamic"));
  std::vector<bool> was_there(designs.size(), false);
  Jobs jobs;
  jobs.count = static_cast<int>(designs.size());
  jobs.known = [&](int k) -> std::optional<std::string> {
    auto known = options_.journal ? options_.journal->find(keys[k]) : std::nullopt;
    was_there[k] = known.has_value();
    return known;
  };
  jobs.run = [&](int k, const std::function<void(double)>& report) {
    RunSettings settings;
    settings.method = method;
    settings.figures_only = true;
    settings.progress = report;
    return record_text(run_one(site_, ground, rain_, designs[k], {}, settings).record, rain_.end_of_rain());
  };
  jobs.sink = [&](int k, const std::string& text) {
    texts[k] = text;
    ++(was_there[k] ? tuning_.runs_found : tuning_.runs_made);
    if (options_.journal && executor_.leads() && !was_there[k]) options_.journal->add(keys[k], text);
  };
  jobs.progress = [&](double share) { return !options_.progress || options_.progress(doing, share); };
  executor_.run(jobs);
  return texts;
}

std::vector<Judged> Search::judge_of(const results::DesignRecord& as_is,
                                     const results::DesignRecord& record) const {
  results::Comparison pair = tuning_.yard;
  pair.designs = {as_is};
  return results::judge(pair, record);
}

void Search::quick_look() {
  std::vector<const site::Design*> designs{nullptr};
  std::vector<int> which;
  for (std::size_t k = 0; k < tuning_.tried.size(); ++k)
    if (tuning_.tried[k].candidate.can_be_built()) {
      designs.push_back(&tuning_.tried[k].candidate.design);
      which.push_back(static_cast<int>(k));
    }
  tuning_.quick_used = !options_.all_in_full && which.size() > few;
  if (!tuning_.quick_used) return;
  const std::vector<std::string> texts =
      run_all(designs, true, "A quick look at " + std::to_string(which.size()) + " combinations");
  as_is_quick_ = record_from(texts.front());
  for (std::size_t k = 0; k < which.size(); ++k) {
    Tried& tried = tuning_.tried[which[k]];
    tried.quick = record_from(texts[k + 1]);
    tried.judged = judge_of(as_is_quick_, *tried.quick);
  }
}

void Search::run_in_full(std::vector<int> which) {
  which.erase(std::remove_if(which.begin(), which.end(),
                             [&](int k) {
                               return tuning_.tried[k].full.has_value() ||
                                      !tuning_.tried[k].candidate.can_be_built();
                             }),
              which.end());
  if (which.empty()) return;
  std::vector<const site::Design*> designs;
  for (const int k : which) designs.push_back(&tuning_.tried[k].candidate.design);
  const std::vector<std::string> texts =
      run_all(designs, false, which.size() == 1 ? "One in full" : std::to_string(which.size()) + " in full");
  for (std::size_t k = 0; k < which.size(); ++k) {
    Tried& tried = tuning_.tried[which[k]];
    tried.full = record_from(texts[k]);
    tried.judged = judge_of(tuning_.yard.designs.front(), *tried.full);
    tried.works =
        std::all_of(tried.judged.begin(), tried.judged.end(), [](const Judged& one) { return one.kept; });
  }
  measure_error();
  // Whatever it was run for: what works in full may be smaller than the smallest known so far.
  tuning_.smallest = -1;
  for (std::size_t k = 0; k < tuning_.tried.size() && tuning_.smallest < 0; ++k)
    if (tuning_.tried[k].works) tuning_.smallest = static_cast<int>(k);
}

void Search::measure_error() {
  tuning_.error = {};
  const auto compare = [&](const std::vector<Judged>& quick, const std::vector<Judged>& full) {
    ++tuning_.error.runs;
    for (std::size_t p = 0; p < std::min(quick.size(), full.size()); ++p) {
      double& largest = full[p].promise == Promise::standing    ? tuning_.error.standing
                        : full[p].promise == Promise::soggy_bed ? tuning_.error.soggy_bed
                                                                : tuning_.error.dry_bed;
      largest = std::max(largest, std::abs(quick[p].found - full[p].found));
    }
  };
  if (!tuning_.quick_used) return;
  compare(judge_of(as_is_quick_, as_is_quick_),
          judge_of(tuning_.yard.designs.front(), tuning_.yard.designs.front()));
  for (const Tried& tried : tuning_.tried)
    if (tried.full && tried.quick) compare(judge_of(as_is_quick_, *tried.quick), tried.judged);
}

double Search::error_of(Promise promise) const {
  const double largest = promise == Promise::standing    ? tuning_.error.standing
                         : promise == Promise::soggy_bed ? tuning_.error.soggy_bed
                                                         : tuning_.error.dry_bed;
  return error_factor * largest + least_doubt;
}

// Whether the quick look leaves it open. Limits of dry beds depend on the yard as it is, whose own error
// counts as well.
bool Search::could_work(const Tried& tried) const {
  return std::all_of(tried.judged.begin(), tried.judged.end(), [&](const Judged& one) {
    return one.found - error_of(one.promise) * (one.promise == Promise::dry_bed ? 2 : 1) <= one.limit;
  });
}

// Built, not run in full, smaller than the smallest that works so far, and not ruled out; smallest first.
std::vector<int> Search::still_open() const {
  std::vector<int> open;
  const int end = tuning_.smallest >= 0 ? tuning_.smallest : static_cast<int>(tuning_.tried.size());
  for (int k = 0; k < end; ++k) {
    const Tried& tried = tuning_.tried[k];
    if (tried.candidate.can_be_built() && !tried.full && (!tried.quick || could_work(tried)))
      open.push_back(k);
  }
  return open;
}

// What comes just before the smallest that works, if it can be built and was not run in full.
std::vector<int> Search::before_smallest() const {
  for (int k = tuning_.smallest - 1; k >= 0; --k)
    if (tuning_.tried[k].candidate.can_be_built())
      return tuning_.tried[k].full ? std::vector<int>{} : std::vector<int>{k};
  return {};
}

// Runs in full what could still be the smallest, and then what comes just before the smallest, to say why it
// fails. Either can turn out to work itself, or show that the quick look errs by more than was known.
void Search::settle() {
  for (;;) {
    std::vector<int> next = still_open();
    if (next.empty()) next = before_smallest();
    if (next.empty()) return;
    if (next.size() > batch) next.resize(batch);
    run_in_full(next);
  }
}

void Search::find_smallest() {
  // The smallest and the largest show how far the quick look errs, the first that it passes and the one
  // before bracket the answer.
  std::vector<int> first, built;
  for (std::size_t k = 0; k < tuning_.tried.size(); ++k)
    if (tuning_.tried[k].candidate.can_be_built()) built.push_back(static_cast<int>(k));
  if (built.empty()) return;
  first = {built.front(), built.back()};
  for (std::size_t b = 0; b < built.size(); ++b) {
    const Tried& tried = tuning_.tried[built[b]];
    if (!std::all_of(tried.judged.begin(), tried.judged.end(), [](const Judged& one) { return one.kept; }))
      continue;
    first.push_back(built[b]);
    if (b > 0) first.push_back(built[b - 1]);
    break;
  }
  std::sort(first.begin(), first.end());
  first.erase(std::unique(first.begin(), first.end()), first.end());
  run_in_full(tuning_.quick_used ? first : built);
  settle();
}

// The curve is drawn from full runs as far as they are worth it.
void Search::confirm_curve() {
  for (int round = 0; round < 3; ++round) { // a full run can take a point off the front and put others on it
    mark_front(tuning_.tried);
    std::vector<int> front;
    int confirmed = 0;
    for (std::size_t k = 0; k < tuning_.tried.size(); ++k)
      if (tuning_.tried[k].on_front) {
        if (tuning_.tried[k].full)
          ++confirmed;
        else
          front.push_back(static_cast<int>(k));
      }
    if (front.empty() || confirmed >= most_front) break;
    if (static_cast<int>(front.size()) > most_front - confirmed)
      front.resize(static_cast<std::size_t>(most_front - confirmed));
    run_in_full(front);
    settle();
  }
  mark_front(tuning_.tried);
  tuning_.knee = knee_of(tuning_.tried);
}

Tuning Search::run() {
  tuning_.yard = describe(site_, ground_, rain_, options_.version);
  tuning_.design = tuned_design(site_).name;
  tuning_.full_cell = ground_.grid.cell;
  tuning_.quick_cell = (options_.quick_ground ? *options_.quick_ground : ground_).grid.cell;
  make_candidates();
  quick_look();
  tuning_.yard.designs = {record_from(run_all({nullptr}, false, "The yard as it is").front())};
  const results::DesignRecord as_is = tuning_.yard.designs.front();
  tuning_.as_is_works = results::meets_target(tuning_.yard, as_is);
  measure_error();
  find_smallest();
  confirm_curve();
  if (tuning_.smallest >= 0)
    tuning_.limits_not_kept = limits_not_kept(
        checks::check_yard(site_, ground_),
        checks::check_design(site_, ground_, tuning_.tried[tuning_.smallest].candidate.design));
  return std::move(tuning_);
}

} // namespace

double hours_of(const results::DesignRecord& record) {
  return results::longest_standing_hours(record, site::not_given); // from text: they are counted already
}

Tuning tune(const site::Site& site, const terrain::Ground& ground, Executor& executor,
            const TuneOptions& options) {
  return Search(site, ground, executor, options).run();
}

} // namespace lowspot::study
