#include <lowspot/report/diagnosis_tables.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/report/diagnosis_words.hpp>

namespace lowspot::report {
namespace {

std::string place(const Point& at, const Units& units) {
  return fixed(units.length.of(at.x), 1) + ", " + fixed(units.length.of(at.y), 1);
}

std::string rain_figure(double rain, const Units& units) {
  return std::isfinite(rain) ? figure(rain, units.depth) : "never";
}

std::string goes_to(const study::LowSpotDiagnosis& low) {
  if (low.spot.closed) return "nowhere: closed";
  if (low.spot.spills_into > 0)
    return "no. " + std::to_string(low.spot.spills_into) + (low.leaves_yard ? "" : ", stays in the yard");
  return "out of the yard";
}

std::string more_text(std::size_t all, std::size_t shown) {
  if (all <= shown) return "";
  return paragraph("The " + std::to_string(shown) + " largest of " + std::to_string(all) +
                   "; the others are in the files.");
}

// The low spots that a person would dig for; where there are none of those, all.
std::vector<const study::LowSpotDiagnosis*> shown(const study::Diagnosis& diagnosis) {
  std::vector<const study::LowSpotDiagnosis*> list = spots_to_dig_for(diagnosis);
  if (list.empty())
    for (const study::LowSpotDiagnosis& low : diagnosis.low_spots) list.push_back(&low);
  return list;
}

std::vector<std::string> outlet_row(const std::string& from, const study::OutletRoute& route,
                                    const Units& units) {
  const bool way = !route.path.empty();
  const auto number = [&](double value, const Unit& unit) {
    return way ? figure(value, unit) : std::string("\u2013");
  };
  return {from,
          route.outlet + (route.kind == "edge" || route.kind == route.outlet ? "" : " (" + route.kind + ")"),
          reach_text(route, units),
          number(route.length, units.length),
          way ? fall_figure(route.fall_available, units) : "\u2013",
          way ? fall_figure(route.fall_needed, units) : "\u2013",
          number(route.deepest_cut, units.length),
          crosses_text(route, units)};
}

} // namespace

Table low_spot_table(const study::Diagnosis& diagnosis, const Units& units, std::size_t most) {
  Table table{"Low spots, largest first",
              {"no.", "in", "deepest at x, y (" + units.length.name + ")", "deep, " + units.depth.name,
               "area when full, " + units.area.name, "holds, " + units.volume.name,
               "spills at x, y (" + units.length.name + ")", "into",
               "rain that fills it if all ran off, " + units.depth.name,
               "as the ground starts, " + units.depth.name, "on wet ground, " + units.depth.name},
              {},
              {1, 7}};
  for (const study::LowSpotDiagnosis* each : shown(diagnosis)) {
    if (table.rows.size() == most) break;
    const study::LowSpotDiagnosis& low = *each;
    const terrain::LowSpot& spot = low.spot;
    table.rows.push_back(
        {std::to_string(spot.id), low.place, place(spot.at, units), figure(spot.depth, units.depth),
         figure(spot.area, units.area), figure(spot.volume, units.volume),
         spot.closed ? "\u2013" : place(spot.spill_at, units), goes_to(low),
         rain_figure(low.rain_to_fill.all_runs_off, units), rain_figure(low.rain_to_fill.as_it_starts, units),
         rain_figure(low.rain_to_fill.wet, units)});
  }
  return table;
}

Table catchment_table(const study::Diagnosis& diagnosis, const Units& units, std::size_t most) {
  Table table{
      "What sheds to each low spot",
      {"no.", "in", "ground, " + units.area.name, "of it", "roofs", "full low spots that spill into it"},
      {},
      {1, 3, 4, 5}};
  for (const study::LowSpotDiagnosis* each : shown(diagnosis)) {
    if (table.rows.size() == most) break;
    const study::LowSpotDiagnosis& low = *each;
    std::string fed;
    for (const int id : low.fed_by) fed += (fed.empty() ? "no. " : ", ") + std::to_string(id);
    const std::string roofs = roofs_text(low, units);
    table.rows.push_back({std::to_string(low.spot.id), low.place, figure(low.spot.catchment, units.area, 3),
                          covers_text(low, units), roofs.empty() ? "none" : roofs,
                          fed.empty() ? "none" : fed});
  }
  return table;
}

Table basin_table(const study::Diagnosis& diagnosis, const Units& units, std::size_t most) {
  Table table{"Hollows within low spots, in the order in which they fill",
              {"low spot", "hollow", "deepest at x, y (" + units.length.name + ")",
               "full at, " + units.elevation.name, "holds, " + units.volume.name, "then",
               "rain that fills it on wet ground, " + units.depth.name},
              {},
              {1, 5}};
  for (const study::LowSpotDiagnosis* each : shown(diagnosis))
    for (const study::LowSpotDiagnosis& low = *each; const study::Basin& basin : low.basins) {
      if (table.rows.size() == most) return table;
      std::string then = goes_to(low);
      if (basin.merges_into > 0)
        then = "spills to hollow " + std::to_string(basin.spills_to) +
               "; when both are full they are hollow " + std::to_string(basin.merges_into);
      table.rows.push_back({std::to_string(low.spot.id), std::to_string(basin.id), place(basin.at, units),
                            fixed(units.elevation.of(basin.spill_level), units.metric ? 3 : 2),
                            figure(basin.volume, units.volume), then,
                            rain_figure(basin.rain_to_fill.wet, units)});
    }
  return table;
}

Table outlet_table(const study::Diagnosis& diagnosis, const Units& units) {
  Table table{"Outlets and the fall to them",
              {"from", "to", "reached", "length, " + units.length.name, "fall available, " + units.depth.name,
               "fall needed, " + units.depth.name, "deepest cut, " + units.length.name, "passes under"},
              {},
              {1, 2, 7}};
  for (const study::LowSpotDiagnosis* low : shown(diagnosis))
    for (const study::OutletRoute& route : low->outlets)
      table.rows.push_back(
          outlet_row("no. " + std::to_string(low->spot.id) + ", " + low->place, route, units));
  for (const study::HeadDiagnosis& head : diagnosis.heads)
    for (const study::OutletRoute& route : head.outlets)
      table.rows.push_back(outlet_row(head.design + ": head of " + head.run, route, units));
  return table;
}

std::string diagnosis_figure(const study::Diagnosis& diagnosis, const std::string& picture) {
  std::string said =
      "Map of the yard with its low spots, the ground that sheds to each and ways to outlets: ";
  said += std::to_string(diagnosis.low_spots.size()) +
          (diagnosis.low_spots.size() == 1 ? " low spot." : " low spots.");
  return "<figure class=\"paper\"><div class=\"scroll\" tabindex=\"0\" role=\"group\" "
         "aria-label=\"Map\"><img "
         "alt=\"" +
         escape(said) + "\" src=\"" + png_source(picture) +
         "\"></div><figcaption>Numbers are those of the table; the largest low spot is no. "
         "1.</figcaption></figure>\n";
}

std::string low_spots_html(const study::Diagnosis& diagnosis, const Units& units) {
  if (diagnosis.low_spots.empty()) return paragraph("The ground has no low spot that would hold water.");
  const Table spots = low_spot_table(diagnosis, units), basins = basin_table(diagnosis, units);
  std::string html = table_html(spots) + more_text(shown(diagnosis).size(), spots.rows.size()) +
                     table_html(catchment_table(diagnosis, units));
  if (!basins.rows.empty()) html += table_html(basins);
  if (const std::string small = small_spots_sentence(diagnosis, units); !small.empty())
    html += paragraph(small + " They are in the files.");
  return html + paragraph(rain_note(diagnosis, units));
}

std::string outlets_html(const site::Site& site, const study::Diagnosis& diagnosis, const Units& units) {
  const Table table = outlet_table(diagnosis, units);
  std::string html;
  std::vector<std::string> said;
  for (const study::LowSpotDiagnosis* low : shown(diagnosis))
    if (low->outlets_searched && said.size() < 4)
      said.push_back("No. " + std::to_string(low->spot.id) + ", " + low->place + ": " +
                     outlet_sentence(low->outlets, units));
  if (!said.empty()) html += list(said);
  if (table.rows.empty()) return html;
  return html + table_html(table) + paragraph(reach_note(site.reach, units));
}

} // namespace lowspot::report
