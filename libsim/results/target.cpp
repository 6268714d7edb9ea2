#include <lowspot/results/target.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace lowspot::results {
namespace {

constexpr double hour = 3600, day = 86400;

const std::vector<BedRecord>& spell_of(const DesignRecord& design) {
  return design.season_beds.empty() ? design.beds : design.season_beds;
}

double tenths_of_a_day(double days) {
  return std::round(10 * days) / 10 * day;
}

void judge_beds(const Comparison& all, const DesignRecord& design, std::vector<Judged>& judged) {
  // What is still soggy when the simulated time ends has not been shown to be so for no longer than agreed.
  if (std::isfinite(all.soggy_limit))
    for (const BedRecord& bed : design.beds)
      judged.push_back({Promise::soggy_bed, bed.name, bed.soggy_hours * hour, all.soggy_limit,
                        bed.still_soggy, !bed.still_soggy && bed.soggy_hours * hour <= all.soggy_limit});
  if (!std::isfinite(all.dry_limit) && !std::isfinite(all.dry_beyond)) return;
  const std::vector<BedRecord>& beds = spell_of(design);
  const std::vector<BedRecord>& before = spell_of(all.designs.front());
  // Without a season the storm's own run is the dry spell: one that is shorter than the time agreed cannot
  // show that a bed which has dried keeps to it.
  const double watched = design.season_beds.empty() && !design.time.empty()
                             ? design.time.back()
                             : std::numeric_limits<double>::infinity();
  for (std::size_t k = 0; k < beds.size(); ++k) {
    const double found = tenths_of_a_day(beds[k].days_below_half_available_water);
    double limit = all.dry_limit;
    if (std::isfinite(all.dry_beyond) && k < before.size())
      limit = tenths_of_a_day(before[k].days_below_half_available_water) + all.dry_beyond;
    if (!std::isfinite(limit)) continue;
    const bool open = found > 0 && watched < limit;
    judged.push_back(
        {Promise::dry_bed, beds[k].name, found, limit, open, !open && found <= limit + 1e-6 * day});
  }
}

} // namespace

double wettest_spot_hours(const DesignRecord& design, double end_of_rain) {
  if (!design.last_standing.empty() && std::isfinite(end_of_rain)) {
    const double last = *std::max_element(design.last_standing.begin(), design.last_standing.end());
    return std::max(0.0, last - end_of_rain) / hour;
  }
  if (design.standing_hours.empty()) return 0;
  return *std::max_element(design.standing_hours.begin(), design.standing_hours.end());
}

std::vector<Standing> standing_of(const DesignRecord& design, double clear_within, double end_of_rain) {
  std::vector<Standing> places;
  for (const AreaRecord& area : design.areas)
    if (area.judged)
      places.push_back(
          {area.name, area.standing_hours_after_rain, area.still_standing, area.clear_within_target});
  if (!places.empty()) return places;
  const double hours = wettest_spot_hours(design, end_of_rain);
  places.push_back({"the wettest spot", hours, design.still_standing,
                    !design.still_standing && hours * hour <= clear_within});
  return places;
}

Standing longest_standing(const DesignRecord& design, double clear_within, double end_of_rain) {
  const std::vector<Standing> places = standing_of(design, clear_within, end_of_rain);
  return *std::max_element(places.begin(), places.end(), [](const Standing& a, const Standing& b) {
    return std::pair(a.still, a.hours) < std::pair(b.still, b.hours);
  });
}

bool clears(const DesignRecord& design, double clear_within, double end_of_rain) {
  const std::vector<Standing> places = standing_of(design, clear_within, end_of_rain);
  return std::all_of(places.begin(), places.end(), [](const Standing& one) { return one.met; });
}

double longest_standing_hours(const DesignRecord& design, double end_of_rain) {
  double most = 0;
  for (const Standing& one : standing_of(design, 0, end_of_rain)) most = std::max(most, one.hours);
  return most;
}

std::vector<Judged> judge(const Comparison& all, const DesignRecord& design) {
  std::vector<Judged> judged;
  for (const Standing& one : standing_of(design, all.clear_within, all.end_of_rain))
    judged.push_back({Promise::standing, one.place, one.hours * hour, all.clear_within, one.still, one.met});
  judge_beds(all, design, judged);
  return judged;
}

std::vector<Judged> misses(const Comparison& all, const DesignRecord& design) {
  std::vector<Judged> judged = judge(all, design);
  judged.erase(std::remove_if(judged.begin(), judged.end(), [](const Judged& one) { return one.kept; }),
               judged.end());
  return judged;
}

bool meets_target(const Comparison& all, const DesignRecord& design) {
  return misses(all, design).empty();
}

} // namespace lowspot::results
