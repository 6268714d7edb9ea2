#include <lowspot/results/target.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

namespace lowspot::results {
namespace {

constexpr double hour = 3600, day = 86400;

double wettest_spot(const DesignRecord& design) {
  if (design.standing_hours.empty()) return 0;
  return *std::max_element(design.standing_hours.begin(), design.standing_hours.end());
}

const std::vector<BedRecord>& spell_of(const DesignRecord& design) {
  return design.season_beds.empty() ? design.beds : design.season_beds;
}

double tenths_of_a_day(double days) {
  return std::round(10 * days) / 10 * day;
}

void judge_beds(const Comparison& all, const DesignRecord& design, std::vector<Judged>& judged) {
  if (std::isfinite(all.soggy_limit))
    for (const BedRecord& bed : design.beds)
      judged.push_back({Promise::soggy_bed, bed.name, bed.soggy_hours * hour, all.soggy_limit, false,
                        bed.soggy_hours * hour <= all.soggy_limit});
  if (!std::isfinite(all.dry_limit) && !std::isfinite(all.dry_beyond)) return;
  const std::vector<BedRecord>& beds = spell_of(design);
  const std::vector<BedRecord>& before = spell_of(all.designs.front());
  for (std::size_t k = 0; k < beds.size(); ++k) {
    const double found = tenths_of_a_day(beds[k].days_below_half_available_water);
    double limit = all.dry_limit;
    if (std::isfinite(all.dry_beyond) && k < before.size())
      limit = tenths_of_a_day(before[k].days_below_half_available_water) + all.dry_beyond;
    if (std::isfinite(limit))
      judged.push_back({Promise::dry_bed, beds[k].name, found, limit, false, found <= limit + 1e-6 * day});
  }
}

} // namespace

std::vector<Standing> standing_of(const DesignRecord& design, double clear_within) {
  std::vector<Standing> places;
  for (const AreaRecord& area : design.areas)
    if (area.judged)
      places.push_back(
          {area.name, area.standing_hours_after_rain, area.still_standing, area.clear_within_target});
  if (!places.empty()) return places;
  const double hours = wettest_spot(design);
  places.push_back({"the wettest spot", hours, design.still_standing,
                    !design.still_standing && hours * hour <= clear_within});
  return places;
}

Standing longest_standing(const DesignRecord& design, double clear_within) {
  const std::vector<Standing> places = standing_of(design, clear_within);
  return *std::max_element(places.begin(), places.end(), [](const Standing& a, const Standing& b) {
    return std::pair(a.still, a.hours) < std::pair(b.still, b.hours);
  });
}

bool clears(const DesignRecord& design, double clear_within) {
  const std::vector<Standing> places = standing_of(design, clear_within);
  return std::all_of(places.begin(), places.end(), [](const Standing& one) { return one.met; });
}

double longest_standing_hours(const DesignRecord& design) {
  double most = 0;
  for (const Standing& one : standing_of(design, 0)) most = std::max(most, one.hours);
  return most;
}

std::vector<Judged> judge(const Comparison& all, const DesignRecord& design) {
  std::vector<Judged> judged;
  for (const Standing& one : standing_of(design, all.clear_within))
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
