#include <lowspot/results/summary_json.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/results/bed_change.hpp>
#include <lowspot/results/check_json.hpp>
#include <lowspot/results/json_tools.hpp>
#include <lowspot/results/plausible_json.hpp>

namespace lowspot::results {
namespace {

Json ledger(const LedgerRecord& books) {
  return {{"rain_m3", books.rain},
          {"inflow_m3", books.inflow},
          {"left_over_edges_m3", books.left_over_edges},
          {"left_underground_m3", books.left_underground},
          {"left_by_drains_m3", books.left_by_drains},
          {"deep_leakage_m3", books.deep_leakage},
          {"evapotranspiration_m3", books.evapotranspiration},
          {"infiltrated_m3", books.infiltrated},
          {"stored_start_m3", books.stored_start},
          {"stored_end_m3", books.stored_end},
          {"closure_m3", books.closure}};
}

Json area(const AreaRecord& record) {
  return {{"name", record.name},
          {"max_depth_m", record.max_depth},
          {"peak_volume_m3", record.peak_volume},
          {"standing_hours_after_rain", record.standing_hours_after_rain},
          {"standing_area_m2", record.standing_area},
          {"clear_within_target", record.clear_within_target},
          {"judged", record.judged},
          {"still_standing", record.still_standing},
          {"soggy_hours", record.soggy_hours},
          {"soggy_hours_after_rain", record.soggy_hours_after_rain},
          {"still_soggy", record.still_soggy},
          {"under_slab", record.under_slab},
          {"perched_max_m", record.perched_max}};
}

Json gauge(const GaugeRecord& record) {
  return {{"name", record.name},
          {"max_depth_m", record.max_depth},
          {"time_of_max_s", record.time_of_max},
          {"standing_hours_after_rain", record.standing_hours_after_rain},
          {"still_standing", record.still_standing}};
}

Json flow(const FlowRecord& record, const char* name_key) {
  return {{name_key, record.name}, {"peak_flow_m3_per_s", record.peak_flow}, {"volume_m3", record.volume}};
}

Json low_spot(const terrain::LowSpot& spot) {
  return {{"id", spot.id},
          {"at", json_point(spot.at)},
          {"depth_m", spot.depth},
          {"area_m2", spot.area},
          {"volume_m3", spot.volume},
          {"spill_at", json_point(spot.spill_at)},
          {"catchment_m2", spot.catchment},
          {"rain_to_fill_m", spot.rain_to_fill}};
}

Json shares_of_head(const std::vector<std::pair<std::string, double>>& shares) {
  Json list = Json::object();
  for (const auto& [member, share] : shares) list[member] = share;
  return list;
}

Json drain(const DrainRecord& record) {
  Json hours = Json::object();
  for (const auto& [member, time] : record.limit_hours) hours[member] = time;
  return {{"name", record.name},
          {"peak_flow_m3_per_s", record.peak_flow},
          {"full_flow_capacity_m3_per_s", record.full_flow_capacity},
          {"surcharged_s", record.surcharged},
          {"volume_out_m3", record.volume_out},
          {"limited_by", record.limited_by},
          {"limit_hours", std::move(hours)},
          {"head_lost_in_storm", shares_of_head(record.lost_in_storm)},
          {"head_lost_in_drying", shares_of_head(record.lost_in_drying)},
          {"reach",
           {{"left_m", std::isfinite(record.reach.time) ? finite(record.reach.left) : Json(nullptr)},
            {"right_m", std::isfinite(record.reach.time) ? finite(record.reach.right) : Json(nullptr)},
            {"time_s", finite(record.reach.time)}}}};
}

Json vessel(const VesselRecord& record) {
  return {{"name", record.name},
          {"kind", record.kind},
          {"highest_level_m", record.highest_level},
          {"highest_stored_m3", record.highest_stored},
          {"peak_flow_m3_per_s", record.peak_flow},
          {"volume_m3", record.volume}};
}

Json budget(const BedBudget& terms) {
  return {{"rain_m", terms.rain},         {"run_on_m", terms.run_on}, {"lateral_m", terms.lateral},
          {"to_drain_m", terms.to_drain}, {"drunk_m", terms.drunk},   {"leaked_m", terms.leaked},
          {"change_m", terms.change}};
}

Json bed(const BedRecord& record) {
  Json result = {{"name", record.name},
                 {"soggy_hours", record.soggy_hours},
                 {"still_soggy", record.still_soggy},
                 {"longest_soggy_hours", record.longest_soggy_hours},
                 {"longest_soggy_open_ended", record.spell_open},
                 {"days_below_half_available_water", record.days_below_half_available_water},
                 {"lowest_available_fraction", record.lowest_available_fraction},
                 {"plants", record.plants},
                 {"area_m2", record.area},
                 {"budget", budget(record.budget)}};
  if (std::isfinite(record.wet_feet_low_hours))
    result["wet_feet_hours"] = Json::array({record.wet_feet_low_hours, record.wet_feet_high_hours});
  return result;
}

// Every bed of a design; `before`: the same beds of the yard as it is, to say what the change is made of.
Json beds(const std::vector<BedRecord>& records, const std::vector<BedRecord>& before) {
  Json list = Json::array();
  for (std::size_t k = 0; k < records.size(); ++k) {
    Json one = bed(records[k]);
    if (k < before.size()) {
      const BedChange change = bed_change(before[k].budget, records[k].budget);
      one["change_from_as_is"] = {{"supply_m", change.supply},
                                  {"by_run_on_m", change.run_on},
                                  {"by_perched_water_m", change.perched},
                                  {"drunk_m", change.drunk},
                                  {"leaked_m", change.leaked}};
    }
    list.push_back(std::move(one));
  }
  return list;
}

// Of the whole, 0..1; nothing of nothing is nothing.
double part(double volume, double whole) {
  return whole > 0 ? volume / whole : 0.0;
}

Json shares_of_place(const SourceShares& shares, const PlaceShares& place) {
  double peak = 0, rain_end = 0;
  for (const double volume : place.at_peak) peak += volume;
  for (const double volume : place.at_rain_end) rain_end += volume;
  Json sources = Json::array();
  for (std::size_t s = 0; s < shares.sources.size(); ++s) {
    Json source = {{"source", shares.sources[s].name}, {"kind", shares.sources[s].kind}};
    if (place.kind != "edge") {
      source["share"] = part(place.at_peak[s], peak);
      source["volume_m3"] = place.at_peak[s];
      source["share_at_end_of_rain"] = part(place.at_rain_end[s], rain_end);
      source["arrived_m3"] = place.arrived[s];
    }
    source["left_m3"] = place.left[s];
    sources.push_back(std::move(source));
  }
  Json result = {{"place", place.name}, {"kind", place.kind}};
  if (place.kind != "edge") {
    result["peak_time_s"] = place.peak_time;
    result["peak_volume_m3"] = place.peak_volume;
  }
  result["at_peak"] = std::move(sources);
  return result;
}

Json option(const OptionRecord& record) {
  return {{"name", record.name},
          {"works", record.works},
          {"not_kept", record.not_kept},
          {"standing_hours", record.standing_hours},
          {"still_standing", record.still_standing},
          {"soggy_hours", record.soggy_hours},
          {"still_soggy", record.still_soggy},
          {"bed_soggy_hours", record.bed_soggy_hours},
          {"bed_dry_days", record.bed_dry_days},
          {"edges", array_of(record.edges,
                             [](const OptionEdge& edge) {
                               return Json{{"side", edge.side},
                                           {"peak_flow_before_m3_per_s", edge.peak_before},
                                           {"peak_flow_m3_per_s", edge.peak},
                                           {"volume_before_m3", edge.volume_before},
                                           {"volume_m3", edge.volume}};
                             })},
          {"left_by_drains_m3", record.drained},
          {"trench_m", record.dig_length},
          {"dig_m3", record.dig_volume},
          {"fill_m3", record.fill_volume},
          {"cost", finite(record.cost)},
          {"items_without_price", record.without_price},
          {"upkeep", record.upkeep}};
}

Json design(const Comparison& all, const DesignRecord& record) {
  const DesignRecord& as_is = all.designs.front();
  const auto cells = std::count_if(all.active.begin(), all.active.end(), [](auto on) { return on != 0; });
  return {
      {"name", record.name},
      {"ledger", ledger(record.ledger)},
      {"areas", array_of(record.areas, area)},
      {"gauges", array_of(record.gauges, gauge)},
      {"lines", array_of(record.lines, [](const auto& item) { return flow(item, "name"); })},
      {"edges", array_of(record.edges, [](const auto& item) { return flow(item, "side"); })},
      {"low_spots", array_of(record.own_ground ? record.low_spots : all.low_spots, low_spot)},
      {"earthworks", array_of(record.earthworks,
                              [](const terrain::Earthwork& work) {
                                return Json{{"name", work.name},
                                            {"kind", work.kind},
                                            {"cut_m3", work.cut},
                                            {"fill_m3", work.fill}};
                              })},
      {"drains", array_of(record.drains, drain)},
      {"vessels", array_of(record.vessels, vessel)},
      {"outlets", array_of(record.outlets, [](const auto& item) { return flow(item, "name"); })},
      {"checks", checks_json(record.checks)},
      {"beds", beds(record.beds, as_is.beds)},
      {"season", {{"beds", beds(record.season_beds, as_is.season_beds)}}},
      {"shares", array_of(record.shares.places,
                          [&](const PlaceShares& place) { return shares_of_place(record.shares, place); })},
      {"run",
       {{"cells", cells}, {"method", all.method}, {"steps", record.steps}, {"wall_s", record.wall_seconds}}}};
}

} // namespace

std::string summary_json(const Comparison& all) {
  const Json summary = {
      {"schema", "lowspot-summary-1"},
      {"version", all.version},
      {"site", all.site_name},
      {"warnings", array_of(all.warnings, [](const std::string& text) { return Json(text); })},
      {"defaults", array_of(all.defaults,
                            [](const auto& item) {
                              return Json{{"key", item[0]}, {"value", item[1]}, {"tag", item[2]}};
                            })},
      {"storm",
       {{"depth_m", all.storm_depth},
        {"duration_s", all.end_of_rain}, // of all of the depth, that of later storms included
        {"peak_intensity_m_per_s", all.storm_peak_intensity}}},
      {"target",
       {{"standing_depth_m", all.standing_depth},
        {"clear_within_s", all.clear_within},
        {"beds_soggy_s", finite(all.soggy_limit)},
        {"beds_dry_s", finite(all.dry_limit)},
        {"beds_dry_beyond_as_is_s", finite(all.dry_beyond)}}},
      {"season",
       {{"dry_spell_s", all.season.length},
        {"month", all.season.month},
        {"start", all.season.start},
        {"reference_et_m_per_s", all.season.reference_et}}},
      {"designs", array_of(all.designs, [&](const DesignRecord& record) { return design(all, record); })},
      {"options", array_of(all.options, option)},
      {"verdict",
       {{"design", all.verdict.design},
        {"target_met", all.verdict.target_met},
        {"limited_by", all.verdict.limited_by},
        {"sentence", all.verdict.sentence}}},
      {"plausible", plausible_json(all.plausible)}};
  // Text that is not UTF-8 is mended rather than refused: it comes from the names in the site file.
  return summary.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

} // namespace lowspot::results
