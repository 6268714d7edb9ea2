#include <lowspot/study/figures.hpp>

#include <algorithm>

#include <lowspot/results/side_flows.hpp>
#include <lowspot/results/target.hpp>

namespace lowspot::study {
namespace {

void add_beds(std::vector<Figure>& figures, const std::vector<results::BedRecord>& beds, bool season) {
  const std::string when = season ? "season_" : "";
  for (const results::BedRecord& bed : beds) {
    if (!season)
      figures.push_back({"longest_soggy_roots", bed.name, "h", bed.longest_soggy_hours, bed.spell_open});
    figures.push_back({when + "days_below_half", bed.name, "d", bed.days_below_half_available_water, false});
    figures.push_back({when + "lowest_available", bed.name, "", bed.lowest_available_fraction, false});
  }
}

} // namespace

std::vector<std::string> runs_to_outlets(const site::Design* design) {
  std::vector<std::string> names;
  if (!design) return names;
  for (const site::Run& run : design->runs)
    for (const site::Outlet& outlet : design->outlets)
      if (run.to == outlet.name) names.push_back(run.name);
  // A run may end at its outlet by its place alone.
  if (names.empty())
    for (const site::Run& run : design->runs) names.push_back(run.name);
  return names;
}

std::vector<Figure> figures_of(const results::DesignRecord& record, const std::vector<std::string>& last_runs,
                               double end_of_rain) {
  std::vector<Figure> figures;
  for (const results::Standing& one : results::standing_of(record, 0, end_of_rain))
    figures.push_back({"standing_hours", one.place, "h", one.hours, one.still});
  for (const results::AreaRecord& area : record.areas)
    if (area.judged)
      figures.push_back({"soggy_hours", area.name, "h", area.soggy_hours_after_rain, area.still_soggy});
  for (const results::DrainRecord& run : record.drains)
    if (std::find(last_runs.begin(), last_runs.end(), run.name) != last_runs.end())
      figures.push_back({"peak_flow", run.name, "m3/s", run.peak_flow, false});
  if (!record.drains.empty())
    figures.push_back({"drained_volume", "outlets", "m3", results::volume_by_outlets(record), false});
  add_beds(figures, record.beds, false);
  add_beds(figures, record.season_beds, true);
  for (const results::FlowRecord& edge : record.edges) {
    figures.push_back({"edge_volume", edge.name, "m3", edge.volume, false});
    figures.push_back({"edge_peak", edge.name, "m3/s", edge.peak_flow, false});
  }
  return figures;
}

} // namespace lowspot::study
