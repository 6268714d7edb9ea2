#include <lowspot/results/plausible_json.hpp>

#include <lowspot/results/json_tools.hpp>

namespace lowspot::results {
namespace {
// True and false, not numbers.
Json flags(const std::vector<char>& values) {
  return array_of(values, [](char one) { return Json(one != 0); });
}

Json input(const PlausibleInput& one) {
  return {{"key", one.key},       {"name", one.name}, {"low", one.low},
          {"likely", one.likely}, {"high", one.high}, {"values", one.values}};
}

Json design(const PlausibleStudy& study, const PlausibleDesign& one) {
  Json result = {{"name", one.name},         {"works", one.count},           {"of", study.draws},
                 {"works_share", one.share}, {"works_in", flags(one.works)}, {"flip", nullptr}};
  if (one.flip.input >= 0)
    result["flip"] = {{"input", study.inputs[one.flip.input].key},
                      {"value", one.flip.value},
                      {"works", one.flip.works_above ? "above" : "below"},
                      {"exceptions", one.flip.wrong}};
  return result;
}

Json figure(const PlausibleStudy& study, const PlausibleFigure& one) {
  Json shares = Json::array();
  for (std::size_t k = 0; k < one.shares.size(); ++k)
    shares.push_back({{"input", study.inputs[k].key},
                      {"share", one.shares[k].share},
                      {"partial_rank_correlation", one.shares[k].partial}});
  return {{"design", one.design},
          {"what", one.what},
          {"place", one.place},
          {"unit", one.unit},
          {"p10", one.p10},
          {"p50", one.p50},
          {"p90", one.p90},
          {"p90_open_ended", one.open_ended},
          {"main_run", finite(one.main)},
          {"likely_on_draw_cells", one.coarse},
          {"factor", one.factor},
          {"shares", std::move(shares)},
          {"values", one.values},
          {"open_ended", flags(one.open)}};
}

Json test(const PlausibleStudy& study, const NextTest& one) {
  return {{"name", one.name},
          {"how", one.how},
          {"input", study.inputs[one.input].key},
          {"work_minutes", one.minutes},
          {"input_factor_now", one.factor_now},
          {"input_factor_after", one.factor_then},
          {"hours_factor_now", one.answer_now},
          {"hours_factor_after", one.answer_then},
          {"next", one.next}};
}
} // namespace

Json plausible_json(const PlausibleStudy& study) {
  if (study.draws == 0) return nullptr;
  return {
      {"draws", study.draws},
      {"seed", study.seed},
      {"sentence", study.sentence},
      {"cell_m", study.cell},
      {"method", study.method},
      {"inputs", array_of(study.inputs, input)},
      {"designs", array_of(study.designs, [&](const PlausibleDesign& one) { return design(study, one); })},
      {"figures", array_of(study.figures, [&](const PlausibleFigure& one) { return figure(study, one); })},
      {"weights", study.weights},
      {"effective_draws", study.effective},
      {"seen",
       array_of(
           study.seen,
           [](const PlausibleSeen& one) {
             return Json{{"name", one.name}, {"seen_hours", one.hours}, {"simulated_hours", one.simulated}};
           })},
      {"tests", array_of(study.tests, [&](const NextTest& one) { return test(study, one); })},
      {"notes", study.notes},
      {"runs", study.runs},
      {"run_seconds", study.seconds}};
}

} // namespace lowspot::results
