#include <lowspot/study/storms_words.hpp>

#include <cmath>

#include <lowspot/base/csv_text.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/results/json_tools.hpp>
#include <lowspot/site/bed_target.hpp>
#include <lowspot/site/wording.hpp>
#include <lowspot/study/verdict.hpp>

namespace lowspot::study {
namespace {
using results::finite;
using results::Json;

// A depth that is given is told to three digits; one found between storms is not known better than to two.
std::string rain_text(double depth, const site::Site& site, int digits = 3) {
  return site.units == "ft" ? rounded(depth / 0.0254, digits) + " in" : rounded(depth * 1000, digits) + " mm";
}

// A storm of the site's own is named by its depth, which then is not said twice.
std::string storm_and_depth(const StormLevel& level, const site::Site& site) {
  return storm_name(level, site) +
         (std::isfinite(level.return_period) ? " (" + rain_text(level.depth, site) + ")" : "");
}

std::string quoted(const std::string& name) {
  return name == "as is" ? "As it is, the yard" : "'" + name + "'";
}

// What is judged here: where beds have a target too, that is not all of it.
std::string meets_what(const site::Site& site) {
  return site::judges_beds(site.target) ? " meets the target for standing water" : " meets the target";
}
} // namespace

std::string storm_name(const StormLevel& level, const site::Site& site) {
  return std::isfinite(level.return_period) ? "the " + rounded(level.return_period) + "-year storm"
                                            : rain_text(level.depth, site) + " of rain";
}

std::string storm_sentence(const StormCurve& curve, const StormStudy& study, const site::Site& site) {
  if (study.levels.empty()) return "";
  const StormLevel& least = study.levels.front();
  const StormLevel& most = study.levels.back();
  const auto hours = [&](std::size_t k, const std::string& since) {
    return hours_at_least(curve.hours[k], curve.open[k] != 0) + (curve.hours[k] > 0 ? since : "");
  };
  if (std::isinf(curve.fails_at))
    return quoted(curve.design) + meets_what(site) + " in every storm tried, up to " +
           storm_and_depth(most, site) + ": " + place_name(curve.place.back()) + " stands " +
           hours(curve.hours.size() - 1, " after it") + ".";
  if (curve.fails_at <= 0)
    return quoted(curve.design) + " fails already in the smallest storm tried, " +
           storm_and_depth(least, site) + ": " + place_name(curve.place.front()) + " stands " +
           hours(0, " after it") + ".";
  std::string text = quoted(curve.design) + meets_what(site) + " up to about " +
                     rain_text(curve.fails_at, site, 2) + " of rain";
  if (std::isfinite(curve.fails_period))
    text += ", about the " + rounded(curve.fails_period, 2) + "-year storm";
  return text + ". In " + storm_and_depth(most, site) + ", " + place_name(curve.place.back()) + " stands " +
         hours(curve.hours.size() - 1, " after the rain") + ".";
}

std::string storms_method(const StormStudy& study, const site::Site& site) {
  std::string how = "Runs on cells of " + site::written(study.cell, Dimension::length, site);
  if (study.method == "routed") how += ", water routed from pool to pool, a quick method";
  how += ": hours may differ from those of the main comparison by a third. The storm at which a design fails "
         "is read "
         "off the line between two storms.";
  if (site::judges_beds(site.target))
    how += " The beds are not judged here: lowspot compare says whether they keep what was agreed.";
  if (!site.edges.inflows.empty())
    how += " What runs in over the edges is that of the site file in all of them, the heavier ones too.";
  return how;
}

std::string storms_json(const StormStudy& study, const std::string& site_name, const std::string& version) {
  Json json = {{"schema", "lowspot-storms-1"},
               {"version", version},
               {"site", site_name},
               {"target_clear_within_s", study.clear_within},
               {"cell_m", study.cell},
               {"method", study.method},
               {"draws", study.draws},
               {"seed", study.seed}};
  Json storms = Json::array(), designs = Json::array();
  for (const StormLevel& level : study.levels)
    storms.push_back({{"return_period_years", finite(level.return_period)},
                      {"depth_m", level.depth},
                      {"peak_intensity_m_per_s", level.peak_intensity}});
  for (std::size_t d = 0; d < study.curves.size(); ++d) {
    const StormCurve& curve = study.curves[d];
    Json points = Json::array();
    for (std::size_t k = 0; k < curve.hours.size(); ++k) {
      Json point = {{"standing_hours", curve.hours[k]},
                    {"open_ended", curve.open[k] != 0},
                    {"place", curve.place[k]},
                    {"target_met", curve.met[k] != 0}};
      if (!curve.p10.empty()) {
        point["p10"] = curve.p10[k];
        point["p90"] = curve.p90[k];
        point["p90_open_ended"] = curve.p90_open[k] != 0;
        point["works_share"] = curve.works[k];
      }
      points.push_back(std::move(point));
    }
    designs.push_back({{"name", curve.design},
                       {"storms", std::move(points)},
                       {"fails_at_depth_m", finite(curve.fails_at)},
                       {"holds_in_all", std::isinf(curve.fails_at)},
                       {"fails_at_return_period_years", finite(curve.fails_period)},
                       {"sentence", study.sentences[d]}});
  }
  json["storms"] = std::move(storms);
  json["designs"] = std::move(designs);
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string storms_csv(const StormStudy& study) {
  std::string text = "design,return_period_years,depth_m,standing_hours,open_ended,target_met,p10_hours,p90_"
                     "hours,p90_open_ended\n";
  const auto cell = [](double value) { return std::isfinite(value) ? number_text(value) : std::string(); };
  for (const StormCurve& curve : study.curves)
    for (std::size_t k = 0; k < curve.hours.size(); ++k) {
      text += csv_text(curve.design) + "," + cell(study.levels[k].return_period) + "," +
              cell(study.levels[k].depth) + "," + cell(curve.hours[k]) + "," +
              (curve.open[k] ? "yes" : "no") + "," + (curve.met[k] ? "yes" : "no") + "," +
              (curve.p10.empty() ? "" : cell(curve.p10[k])) + "," +
              (curve.p90.empty() ? "," : cell(curve.p90[k]) + (curve.p90_open[k] ? ",yes" : ",no")) + "\n";
    }
  return text;
}

} // namespace lowspot::study
