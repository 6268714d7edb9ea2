#include <lowspot/checks/drain_down.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/checks/judge.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::checks {
namespace {
using results::CheckOutcome;
using results::CheckRecord;

constexpr double empty_share = 0.05; // of what it holds: dampness and silt keep the rest

// When water was last there, in seconds after the rain.
struct Emptied {
  double after = 0;   // s; 0: before the rain ended, or never any
  bool still = false; // it was there when the simulated time ended
  double ended = 0;   // s after the rain at which the simulated time ended
  double rained = 0;  // s at which the rain ended
};

std::string hours_text(double seconds) {
  const double hours = seconds / 3600;
  return rounded(hours, hours < 10 ? 2 : 3) + " h";
}

void judge_emptied(CheckRecord& record, const site::Site& site, const Emptied& found, const std::string& left,
                   const std::string& consequence) {
  const double limit = record.limit_value;
  if (!found.still) {
    judge(record, site, "drain_down", found.after);
    record.found = found.after > 0 ? "empty " + hours_text(found.after) + " after the rain"
                                   : "empty when the rain has ended";
  } else {
    record.found_value = found.ended;
    record.found = left + " when the simulated time ends, " + hours_text(found.ended) + " after the rain";
    record.outcome = found.ended > limit ? CheckOutcome::fail : CheckOutcome::unknown;
    // A given end of the run holds whatever `dry` says.
    const bool until = std::isfinite(site.run.until);
    const auto hours = [](double seconds) { return rounded(std::ceil(seconds / 3600 + 1), 4) + " hr\""; };
    if (record.outcome == CheckOutcome::unknown)
      record.missing =
          std::isnan(limit) ? "the figure: put it in [limits] as drain_down"
          : until ? "a longer simulated time: until = \"" + hours(found.rained + limit) + " under [run]"
                  : "a longer time after the rain: dry = \"" + hours(limit) + " under [storm]";
  }
  if (record.outcome == CheckOutcome::fail) record.found += consequence;
}

void dry_well(const site::Site& site, const site::Outlet& well, const results::DesignRecord& record,
              double end_of_rain, std::vector<CheckRecord>& list) {
  const auto stored =
      std::find_if(record.series.begin(), record.series.end(), [&](const results::Series& series) {
        return series.name == "well:" + well.name + ":stored_m3";
      });
  const double holds = well.well.plan * well.well.depth * well.well.void_share;
  if (stored == record.series.end() || record.time.empty() || !(holds > 0)) return;
  CheckRecord item_of_well =
      item(site, "drain_down", "drain_down", "Dry well empty before the next storm", well.name);
  Emptied found;
  found.ended = record.time.back() - end_of_rain;
  found.rained = end_of_rain;
  double left = 0, at_limit = 0;
  for (std::size_t k = 0; k < record.time.size() && k < stored->values.size(); ++k) {
    const double share = stored->values[k] / holds, after = record.time[k] - end_of_rain;
    if (after <= item_of_well.limit_value) at_limit = share;
    left = share;
    if (share <= empty_share) continue;
    // Empty by the next time that was written down.
    found.still = k + 1 == record.time.size();
    found.after = std::max(0.0, (found.still ? record.time[k] : record.time[k + 1]) - end_of_rain);
  }
  const auto percent = [](double share) { return rounded(100 * share, 2) + " %"; };
  judge_emptied(
      item_of_well, site, found, "still " + percent(left) + " full",
      ": after " + hours_text(item_of_well.limit_value) + " it is still " + percent(at_limit) +
          " full, so that a storm that follows finds that much less room and what does not fit comes "
          "up; a larger well of more wall, a second one, or a way on to an outlet empties it sooner");
  list.push_back(std::move(item_of_well));
}

void rain_garden(const site::Site& site, const terrain::Ground& ground, const site::Basin& basin,
                 const results::DesignRecord& record, double end_of_rain, std::vector<CheckRecord>& list) {
  const Grid& grid = ground.grid;
  if (record.last_standing.size() != grid.cells() || record.time.empty()) return;
  CheckRecord item_of_garden =
      item(site, "drain_down", "drain_down", "Rain garden dry before the next storm", basin.name);
  Emptied found;
  found.ended = record.time.back() - end_of_rain;
  found.rained = end_of_rain;
  // By the last moment, not by how long it stood: water that soaks in, and rises again, is not gone.
  for (std::size_t c = 0; c < grid.cells(); ++c)
    if (contains(basin.outline, {grid.x(grid.column(c)), grid.y(grid.row(c))}))
      found.after = std::max(found.after, record.last_standing[c] - end_of_rain);
  found.still = found.after > 0 && found.after >= found.ended - 60;
  judge_emptied(
      item_of_garden, site, found, "water still stands in it",
      ": most plants drown in so long, mosquitoes hatch in three days, and a storm that follows finds "
      "it full; make it shallower and wider, loosen or amend the soil, or drain it");
  list.push_back(std::move(item_of_garden));
}

} // namespace

void check_drain_down(const site::Site& site, const terrain::Ground& ground, const site::Design& design,
                      const results::DesignRecord& record, double end_of_rain,
                      std::vector<CheckRecord>& list) {
  for (const site::Outlet& outlet : design.outlets)
    if (outlet.kind == "dry well") dry_well(site, outlet, record, end_of_rain, list);
  for (const site::Basin& basin : design.basins) rain_garden(site, ground, basin, record, end_of_rain, list);
}

} // namespace lowspot::checks
