#include <lowspot/study/describe.hpp>

#include <cmath>

namespace lowspot::study {

results::Comparison describe(const site::Site& site, const terrain::Ground& ground,
                             const rain::Hyetograph& rain, const std::string& version) {
  results::Comparison yard;
  yard.version = version;
  yard.site_name = site.name;
  yard.units = site.units;
  yard.crs = site.crs;
  for (const site::Area& area : site.areas) yard.cover_names.push_back(area.name);
  yard.grid = ground.grid;
  yard.elevation = ground.elevation;
  yard.cover = ground.cover;
  yard.active = ground.active;
  yard.warnings = site.warnings;
  for (const std::vector<std::string>& more : {ground.warnings, rain.warnings})
    yard.warnings.insert(yard.warnings.end(), more.begin(), more.end());
  if (site.run.until < rain.end_of_rain() - 1)
    yard.warnings.push_back(
        "The run ends (`until` of [run]) before the rain does: what water does afterwards is not "
        "known, and what is dry by then counts as gone in time.");
  // Where cells of another size were asked for, that of the site file is not what was computed on.
  const bool as_assumed = std::isnan(site.cell) || std::abs(site.cell - ground.grid.cell) < 1e-6 * site.cell;
  for (const std::vector<site::Assumption>& list : {site.assumptions, ground.assumptions})
    for (const site::Assumption& assumption : list) {
      if (assumption.key == "site.cell" && !as_assumed) continue;
      yard.defaults.push_back({assumption.key, assumption.value, assumption.tag});
    }
  yard.storm_depth = rain.depth();
  yard.end_of_rain = rain.end_of_rain();
  yard.storm_duration = std::isfinite(site.storm.duration) ? site.storm.duration : rain.end_of_rain();
  yard.storm_peak_intensity = rain.peak_intensity();
  yard.rain_time = rain.time;
  yard.rain_intensity = rain.intensity;
  yard.standing_depth = site.target.standing_depth;
  yard.clear_within = site.target.clear_within;
  yard.soggy_limit = site.target.soggy_hours_limit;
  yard.dry_limit = site.target.dry_limit;
  yard.dry_beyond = site.target.dry_beyond;
  return yard;
}

} // namespace lowspot::study
