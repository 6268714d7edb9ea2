#include <lowspot/study/tune_json.hpp>

#include <lowspot/results/json_tools.hpp>
#include <lowspot/study/limits_not_kept.hpp>

namespace lowspot::study {
namespace {

using results::finite;
using results::Json;

const char* word_of(results::Promise promise) {
  switch (promise) {
  case results::Promise::standing:
    return "standing";
  case results::Promise::soggy_bed:
    return "soggy bed";
  case results::Promise::dry_bed:
    return "dry bed";
  }
  return "";
}

Json promises(const std::vector<results::Judged>& judged) {
  Json list = Json::array();
  for (const results::Judged& one : judged)
    list.push_back({{"promise", word_of(one.promise)},
                    {"place", one.place},
                    {"found_s", finite(one.found)},
                    {"limit_s", finite(one.limit)},
                    {"still_so_at_the_end", one.open_ended},
                    {"kept", one.kept}});
  return list;
}

Json figures(const results::DesignRecord& record) {
  Json edges = Json::array();
  for (const results::FlowRecord& edge : record.edges)
    edges.push_back(
        {{"side", edge.name}, {"peak_flow_m3_per_s", edge.peak_flow}, {"volume_m3", edge.volume}});
  return {{"standing_hours", hours_of(record)},
          {"left_by_drains_m3", record.ledger.left_by_drains},
          {"left_over_edges_m3", record.ledger.left_over_edges},
          {"edges", std::move(edges)},
          {"closure_m3", record.ledger.closure}};
}

Json combination(const Tried& tried) {
  const Works& works = tried.candidate.works;
  Json json = {{"name", tried.candidate.name},
               {"works", tried.works},
               {"can_be_built", tried.candidate.can_be_built()},
               {"on_front", tried.on_front},
               {"dig_m3", works.dig},
               {"stone_m3", works.stone},
               {"trench_m", works.length},
               {"deepest_m", works.deepest},
               {"pipe_m", works.pipe},
               {"cost", finite(works.cost)}};
  if (!tried.candidate.can_be_built())
    json["refused"] = {{"limit", tried.candidate.limit},
                       {"sentence", tried.candidate.refused},
                       {"missed_by", finite(tried.candidate.missed_by)}};
  json["full"] = tried.full ? figures(*tried.full) : Json(nullptr);
  json["quick"] = tried.quick ? figures(*tried.quick) : Json(nullptr);
  json["promises"] = promises(tried.judged);
  return json;
}

} // namespace

std::string tune_json(const Tuning& tuning, const std::string& sentence) {
  const auto name_at = [&](int index) {
    return index >= 0 ? Json(tuning.tried[index].candidate.name) : Json(nullptr);
  };
  Json combinations = Json::array();
  for (const Tried& tried : tuning.tried) combinations.push_back(combination(tried));
  Json not_kept = Json::array();
  for (const results::CheckRecord& check : tuning.limits_not_kept) not_kept.push_back(limit_name(check));
  const Json json = {{"schema", "lowspot-tune-1"},
                     {"version", tuning.yard.version},
                     {"site", tuning.yard.site_name},
                     {"design", tuning.design},
                     {"sentence", sentence},
                     {"ordered_by", tuning.by_cost ? "cost" : "dig"},
                     {"smallest", name_at(tuning.smallest)},
                     {"limits_not_kept", std::move(not_kept)},
                     {"knee", name_at(tuning.knee)},
                     {"as_is_works", tuning.as_is_works},
                     {"as_is", figures(tuning.yard.designs.front())},
                     {"quick_look",
                      {{"used", tuning.quick_used},
                       {"cell_m", tuning.quick_cell},
                       {"full_cell_m", tuning.full_cell},
                       {"largest_error_standing_s", tuning.error.standing},
                       {"largest_error_soggy_bed_s", tuning.error.soggy_bed},
                       {"largest_error_dry_bed_s", tuning.error.dry_bed},
                       {"cases", tuning.error.runs}}},
                     {"runs", {{"made", tuning.runs_made}, {"found", tuning.runs_found}}},
                     {"combinations", std::move(combinations)}};
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

} // namespace lowspot::study
