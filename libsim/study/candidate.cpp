#include <lowspot/study/candidate.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/job/cut_sheet.hpp>
#include <lowspot/job/least_cover.hpp>
#include <lowspot/site/combine.hpp>
#include <lowspot/site/run_out.hpp>
#include <lowspot/site/wording.hpp>
#include <lowspot/study/relevel.hpp>
#include <lowspot/study/sideways.hpp>

namespace lowspot::study {
namespace {

constexpr double look_every = 0.25; // m along a run

std::string metres(const site::Site& site, double value) {
  return site::written(value, Dimension::length, site);
}

void refuse(Candidate& candidate, const std::string& limit, const std::string& why, double missed_by) {
  if (!candidate.refused.empty()) return;
  candidate.limit = limit;
  candidate.refused = why;
  candidate.missed_by = missed_by;
}

// Length of a line within an outline [m].
double length_within(const Polyline& path, const Polygon& outline) {
  double within = 0;
  const double span = length(path);
  for (double along = look_every / 2; along < span; along += look_every)
    if (contains(outline, point_along(path, along))) within += look_every;
  return within;
}

// Whether a run that was moved sideways has come under a building, or farther under paving than it was drawn.
void check_above(const site::Site& site, const Polyline& drawn, const site::Run& run, Candidate& candidate) {
  const auto look = [&](const Polygon& outline, const std::string& name) {
    if (length_within(run.path, outline) > length_within(drawn, outline) + 2 * look_every)
      refuse(candidate, "place", "'" + run.name + "' would lie under " + name, site::not_given);
  };
  for (const site::Building& building : site.buildings) {
    if (length_within(run.path, building.outline) > 0)
      refuse(candidate, "place", "'" + run.name + "' would lie under " + building.name, site::not_given);
  }
  for (const site::Area& area : site.areas)
    if (area.impervious) look(area.outline, area.name);
}

// Whether parts fit into their trench and the trench into the yard.
void check_room(const site::Site& site, const site::Design& drawn, Candidate& candidate) {
  const std::vector<bool> varied = varied_runs(candidate.design);
  for (std::size_t r = 0; r < candidate.design.runs.size(); ++r) {
    const site::Run& run = candidate.design.runs[r];
    if (site::stands_already(candidate.design, run.name)) continue;
    if (run.trench_width > 0 && run.trench_width < run.pipe.outside_diameter)
      refuse(candidate, "room",
             "the pipe of '" + run.name + "' is " + metres(site, run.pipe.outside_diameter) +
                 " across and does not fit a trench " + metres(site, run.trench_width) + " wide",
             run.pipe.outside_diameter - run.trench_width);
    const double depth = candidate.choice.depth >= 0 && varied[r] && run.has_trench
                             ? site.tune->vary.depths[candidate.choice.depth]
                             : 1e9;
    const double needed = run.pipe.outside_diameter + run.bedding + run.cap.depth;
    if (depth < needed)
      refuse(candidate, "room",
             "bedding, pipe and cap of '" + run.name + "' need " + metres(site, needed) + " of trench",
             needed - depth);
    for (const Point& point : run.path) {
      const bool outside = !contains(site.outline, point) && [&] {
        Polyline ring = site.outline;
        ring.push_back(ring.front());
        return distance_to(ring, point) > 1e-6;
      }();
      if (outside) refuse(candidate, "place", "'" + run.name + "' would leave the yard", site::not_given);
    }
    if (candidate.choice.offset >= 0) check_above(site, drawn.runs[r].path, run, candidate);
  }
}

// Cover, but for what runs out of the ground before a free end, and depth along the whole way.
void check_levels(const site::Site& site, const job::CutSheet& sheet, Candidate& candidate) {
  const site::Tune& limits = *site.tune;
  for (const job::CutRun& run : sheet.runs) {
    const auto laid = std::find_if(candidate.design.runs.begin(), candidate.design.runs.end(),
                                   [&](const site::Run& each) { return each.name == run.name; });
    const job::CutStation* shallowest = job::least_covered(run, site::run_out(site, candidate.design, *laid));
    const double least = shallowest ? job::cover(run, *shallowest) : limits.cover;
    if (least < limits.cover - 1e-6)
      refuse(candidate, "cover",
             least < 0 ? "the pipe of '" + run.name + "' would come out of the ground"
                       : "'" + run.name + "' would have " + metres(site, least) +
                             " of ground over its pipe; " + metres(site, limits.cover) + " is asked for",
             limits.cover - least);
    if (run.deepest >= limits.deepest_trench - 1e-6)
      refuse(candidate, "trench depth",
             "the trench of '" + run.name + "' would be " + metres(site, run.deepest) + " deep; from " +
                 metres(site, limits.deepest_trench) + " it is not allowed here",
             run.deepest - limits.deepest_trench);
  }
}

Works measured(const job::CutSheet& sheet, const site::Design& design) {
  Works works;
  for (const job::CutRun& run : sheet.runs) {
    works.length += run.length;
    works.dig += run.spoil;
    works.stone += run.stone;
    works.deepest = std::max(works.deepest, run.deepest);
    works.pipe = std::max(works.pipe, run.inside_diameter);
  }
  for (const site::Outlet& outlet : design.outlets)
    if (!site::stands_already(design, outlet.name)) works.dig += outlet.well.plan * outlet.well.depth;
  return works;
}

void add_cost(const site::Site& site, const site::Design& design, const terrain::Ground& ground,
              Works& works) {
  if (site.ordering.rates.empty()) return;
  // A rate may name a part of another design, which the take-off of this one alone would call a slip.
  site::Site alone = site;
  alone.designs = {design};
  for (const site::Design& before : site.designs) // what stands is known by it
    if (!design.after.empty() && before.name == design.after && before.name != design.name)
      alone.designs.push_back(before);
  alone.ordering.rates.clear();
  const job::Takeoff quantities = job::take_off(alone, design, ground);
  for (const site::Rate& rate : site.ordering.rates)
    if (std::any_of(quantities.lines.begin(), quantities.lines.end(),
                    [&](const job::TakeoffLine& line) { return lower(line.item) == lower(rate.item); }))
      alone.ordering.rates.push_back(rate);
  if (alone.ordering.rates.empty()) return;
  const job::Takeoff priced = job::take_off(alone, design, ground);
  works.cost = priced.cost;
  works.without_price = priced.without_price;
}

} // namespace

Works works_of(const site::Site& site, const site::Design& design, const terrain::Ground& ground) {
  Works works = measured(job::make_cut_sheet(site, design, ground, look_every), design);
  add_cost(site, design, ground, works);
  return works;
}

Candidate make_candidate(const site::Site& site, const terrain::Ground& ground, const Choice& choice) {
  const site::Design& design = tuned_design(site);
  Candidate candidate;
  candidate.choice = choice;
  candidate.name = choice_name(site, choice);
  candidate.design = design;
  site::Design& changed = candidate.design;
  changed.name = candidate.name;
  const std::vector<bool> varied = varied_runs(design);
  exchange_parts(site, choice, changed);
  if (choice.offset >= 0) move_sideways(site, varied, site.tune->vary.offsets[choice.offset], changed);
  settle_caps(site, varied, changed); // of the place where the runs now are
  check_room(site, design, candidate);
  Levelling wanted;
  if (choice.depth >= 0) wanted.depth = site.tune->vary.depths[choice.depth];
  if (choice.fall >= 0) wanted.fall = site.tune->vary.falls[choice.fall];
  wanted.least_fall = site.tune->least_fall;
  const auto ground_at = [&](Point at) { return terrain::elevation_at(ground, at); };
  const std::string no_fall = relevel(site, design, varied, wanted, ground_at, changed);
  if (!no_fall.empty()) refuse(candidate, "fall", no_fall, site::not_given);
  try {
    const job::CutSheet sheet = job::make_cut_sheet(site, changed, ground, look_every);
    candidate.works = measured(sheet, changed);
    check_levels(site, sheet, candidate);
    add_cost(site, changed, ground, candidate.works);
  } catch (const InputError& error) { // what only the whole drain shows
    refuse(candidate, "drain", error.found, site::not_given);
  }
  return candidate;
}

bool smaller(const Candidate& a, const Candidate& b) {
  const auto known = [](const Candidate& one) { return one.works.dig > 0; };
  if (known(a) != known(b)) return known(a);
  const bool priced = std::isfinite(a.works.cost);
  if (priced != std::isfinite(b.works.cost)) return priced;
  const auto near = [](double x, double y) { return std::abs(x - y) <= 1e-9 * std::max({1.0, x, y}); };
  if (priced && !near(a.works.cost, b.works.cost)) return a.works.cost < b.works.cost;
  if (!near(a.works.dig, b.works.dig)) return a.works.dig < b.works.dig;
  if (!near(a.works.pipe, b.works.pipe)) return a.works.pipe < b.works.pipe;
  return a.name < b.name;
}

} // namespace lowspot::study
