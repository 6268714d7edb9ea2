#include <lowspot/study/diagnosis_json.hpp>

#include <lowspot/results/json_tools.hpp>
#include <lowspot/study/shares.hpp>

namespace lowspot::study {
namespace {

using results::array_of;
using results::Json;
using results::json_point;

Json rain(const RainToFill& rain) {
  return {{"all_runs_off_m", rain.all_runs_off}, {"as_it_starts_m", rain.as_it_starts}, {"wet_m", rain.wet}};
}

const char* reach_word(Reach reach) {
  switch (reach) {
  case Reach::by_gravity:
    return "by gravity";
  case Reach::too_little_fall:
    return "too little fall";
  case Reach::too_deep:
    return "too deep";
  case Reach::shut_in:
    return "shut in";
  }
  return "";
}

Json route(const OutletRoute& route) {
  return {
      {"outlet", route.outlet},
      {"kind", route.kind},
      {"reach", reach_word(route.reach)},
      {"length_m", route.length},
      {"outlet_level_m", route.outlet_level},
      {"fall_available_m", route.fall_available},
      {"fall_needed_m", route.fall_needed},
      {"margin_m", route.margin},
      {"deepest_cut_m", route.deepest_cut},
      {"shallow_end_m", route.shallow_end},
      {"excavation_m3", route.excavation},
      {"crosses", array_of(route.crosses,
                           [](const auto& item) {
                             return Json{{"name", item.first}, {"length_m", item.second}};
                           })},
      {"path", array_of(route.path, json_point)},
      {"profile", {{"distance_m", route.distance}, {"ground_m", route.ground}, {"invert_m", route.invert}}}};
}

Json basin(const Basin& basin) {
  return {{"id", basin.id},
          {"at", json_point(basin.at)},
          {"bottom_m", basin.bottom},
          {"spill_level_m", basin.spill_level},
          {"area_m2", basin.area},
          {"volume_m3", basin.volume},
          {"spill_at", json_point(basin.spill_at)},
          {"merges_into", basin.merges_into},
          {"spills_to", basin.spills_to},
          {"rain_to_fill", rain(basin.rain_to_fill)}};
}

Json low_spot(const LowSpotDiagnosis& each) {
  const terrain::LowSpot& spot = each.spot;
  return {
      {"id", spot.id},
      {"place", each.place},
      {"at", json_point(spot.at)},
      {"bottom_m", spot.bottom},
      {"depth_m", spot.depth},
      {"area_m2", spot.area},
      {"volume_m3", spot.volume},
      {"closed", spot.closed},
      {"spill_level_m", spot.spill_level},
      {"spill_at", json_point(spot.spill_at)},
      {"spill_side", each.spill_side},
      {"spills_into", spot.spills_into},
      {"leaves_yard", each.leaves_yard},
      {"fed_by", each.fed_by},
      {"catchment_m2", spot.catchment},
      {"covers",
       array_of(
           each.covers,
           [](const CoverShare& share) {
             return Json{{"cover", share.cover}, {"area_m2", share.area}, {"impervious", share.impervious}};
           })},
      {"roofs", array_of(each.roofs,
                         [](const RoofShare& share) {
                           return Json{{"name", share.name}, {"roof_m2", share.roof_area}};
                         })},
      {"rain_to_fill", rain(each.rain_to_fill)},
      {"basins", array_of(each.basins, basin)},
      {"outlets_searched", each.outlets_searched},
      {"outlets", array_of(each.outlets, route)}};
}

Json head(const HeadDiagnosis& head) {
  return {{"design", head.design},
          {"run", head.run},
          {"at", json_point(head.at)},
          {"invert_m", head.invert},
          {"outlets", array_of(head.outlets, route)}};
}

Json wet_place(const Diagnosis& diagnosis, const WetPlace& place) {
  Json sources = Json::array();
  if (!diagnosis.yard.designs.empty()) {
    const results::SourceShares& shares = diagnosis.yard.designs.front().shares;
    if (const results::PlaceShares* found = find_place(shares, place.kind, place.name))
      for (const SharePart& part : largest_first(shares, found->at_peak))
        sources.push_back({{"source", part.source},
                           {"kind", part.kind},
                           {"share", part.share},
                           {"volume_m3", part.volume}});
  }
  return {{"place", place.name},
          {"kind", place.kind},
          {"wet", wet_name(place.wet)},
          {"puddle_hours", place.puddle_hours},
          {"soggy_hours", place.soggy_hours},
          {"finding", place.finding},
          {"test", place.test},
          {"at_peak", std::move(sources)},
          {"fixes_at_best", array_of(place.fixes, [](const BestFix& fix) {
             return Json{{"fix", fix.what}, {"source", fix.source}, {"share", fix.share}};
           })}};
}

Json seen(const LeakFinding& finding) {
  return {{"name", finding.seen},
          {"place", finding.place},
          {"without_rain", finding.without_rain},
          {"lasted_s", finding.lasted},
          {"by_rain_alone_s", finding.by_rain_alone},
          {"rain_explains", finding.rain_explains},
          {"flow_low_m3_per_s", finding.flow_low},
          {"flow_high_m3_per_s", finding.flow_high},
          {"sentence", finding.sentence},
          {"tests", finding.tests}};
}

} // namespace

std::string diagnosis_json(const Diagnosis& diagnosis) {
  const results::Comparison& yard = diagnosis.yard;
  const Json json = {
      {"schema", "lowspot-diagnosis-1"},
      {"version", yard.version},
      {"site", yard.site_name},
      {"warnings", array_of(yard.warnings, [](const std::string& text) { return Json(text); })},
      {"defaults", array_of(yard.defaults,
                            [](const auto& item) {
                              return Json{{"key", item[0]}, {"value", item[1]}, {"tag", item[2]}};
                            })},
      {"rain_intensity_m_per_s", diagnosis.rain_intensity},
      {"all_hollows", {{"count", diagnosis.pools}, {"volume_m3", diagnosis.pools_volume}}},
      {"low_spots", array_of(diagnosis.low_spots, low_spot)},
      {"heads", array_of(diagnosis.heads, head)},
      {"wet_places",
       array_of(diagnosis.wet_places, [&](const WetPlace& place) { return wet_place(diagnosis, place); })},
      {"seen", array_of(diagnosis.seen, seen)}};
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

} // namespace lowspot::study
