#include <lowspot/report/key_figures.hpp>

#include <algorithm>

#include <lowspot/report/missed_hours.hpp>

namespace lowspot::report {
namespace {

template <class Key>
const results::AreaRecord* most(const results::DesignRecord& design, Key key) {
  const bool any_judged =
      std::any_of(design.areas.begin(), design.areas.end(), [](const auto& area) { return area.judged; });
  const results::AreaRecord* best = nullptr;
  for (const results::AreaRecord& area : design.areas)
    if ((area.judged || !any_judged) && (best == nullptr || key(area) > key(*best))) best = &area;
  return best;
}

} // namespace

const results::AreaRecord* slowest_area(const results::DesignRecord& design) {
  return most(design, [](const results::AreaRecord& area) {
    return area.standing_hours_after_rain + (area.still_standing ? 1e6 : 0);
  });
}

const results::AreaRecord* deepest_area(const results::DesignRecord& design) {
  return most(design, [](const results::AreaRecord& area) { return area.max_depth; });
}

std::string standing_text(const results::AreaRecord& area) {
  return open_hours_text(area.standing_hours_after_rain, area.still_standing);
}

std::string judged_hours(double hours, bool still, double clear_within) {
  return still ? open_hours_text(hours, true) : missed_hours(hours, clear_within / 3600);
}

std::string hours_caption(const results::DesignRecord& design) {
  const results::AreaRecord* area = slowest_area(design);
  if (area == nullptr) return "";
  if (area->standing_hours_after_rain <= 0 && !area->still_standing) return "no water stands after the rain";
  if (area->still_standing && area->standing_hours_after_rain < 1)
    return "water still stands on " + area->name + " at the end";
  return area->name + " stands " + standing_text(*area) + " after the rain";
}

std::string depth_caption(const results::DesignRecord& design, const Units& units) {
  const results::AreaRecord* area = deepest_area(design);
  if (area == nullptr) return "";
  if (area->max_depth <= 0) return "no water on the ground";
  return area->name + " up to " + amount(area->max_depth, units.depth) + " deep";
}

std::string soggy_text(const results::AreaRecord& area) {
  if (area.soggy_hours_after_rain <= 0 && !area.still_soggy) return not_soggy;
  return open_hours_text(area.soggy_hours_after_rain, area.still_soggy, still_soggy);
}

std::string soggy_caption(const results::DesignRecord& design) {
  const results::AreaRecord* area = most(design, [](const results::AreaRecord& one) {
    return one.soggy_hours_after_rain + (one.still_soggy ? 1e6 : 0);
  });
  if (area == nullptr) return "";
  if (area->soggy_hours_after_rain <= 0 && !area->still_soggy)
    return "the ground is firm once the rain is over";
  if (area->still_soggy && area->soggy_hours_after_rain < 1)
    return area->under_slab ? "under " + area->name + " the soil is still full at the end"
                            : area->name + " is still soggy at the end";
  if (area->under_slab)
    return "under " + area->name + " the soil stays full for " + soggy_text(*area) + " after the rain";
  return area->name + " stays soggy for " + soggy_text(*area) + " after the rain";
}

std::string emptied_text(const results::DesignRecord& design, const std::string& name) {
  for (const results::CheckRecord& check : design.checks)
    if (check.id == "drain_down" && check.about == name)
      return check.found.substr(0, check.found.find(": ")); // behind it stands what that leads to
  return "";
}

std::string perched_caption(const results::DesignRecord& design, const Units& units) {
  const results::AreaRecord* area =
      most(design, [](const results::AreaRecord& one) { return one.perched_max; });
  if (area == nullptr) return "";
  if (area->perched_max <= 0) return "no water stands in the soil";
  return (area->under_slab ? "under " : "") + area->name + ": up to " +
         amount(area->perched_max, units.depth);
}

} // namespace lowspot::report
