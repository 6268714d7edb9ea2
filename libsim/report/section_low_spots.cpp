// Low spots of the ground as it is.
#include <lowspot/base/text.hpp>
#include <lowspot/report/diagnosis_tables.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/sections.hpp>

namespace lowspot::report {
namespace {

std::string place(const Point& at, const Units& units) {
  return fixed(units.length.of(at.x), 1) + ", " + fixed(units.length.of(at.y), 1);
}

} // namespace

std::string low_spots_section(const Page& page) {
  const Units& units = page.units();
  if (page.diagnosis != nullptr) {
    const std::string picture = page.pictures.diagnosis;
    return (picture.empty() ? "" : diagnosis_figure(*page.diagnosis, picture)) +
           low_spots_html(*page.diagnosis, units);
  }
  Table table{"Low spots, largest first",
              {"no.", "deepest at x, y (" + units.length.name + ")", "deep, " + units.depth.name,
               "area when full, " + units.area.name, "holds, " + units.volume.name,
               "ground that drains to it, " + units.area.name, "rain that fills it, " + units.depth.name,
               "spills at x, y (" + units.length.name + ")"},
              {},
              {}};
  constexpr std::size_t most_rows = 12;
  for (const terrain::LowSpot& spot : page.comparison().low_spots) {
    if (table.rows.size() == most_rows) break;
    table.rows.push_back({std::to_string(spot.id), place(spot.at, units), figure(spot.depth, units.depth),
                          figure(spot.area, units.area), figure(spot.volume, units.volume),
                          figure(spot.catchment, units.area), figure(spot.rain_to_fill, units.depth),
                          place(spot.spill_at, units)});
  }
  if (table.rows.empty()) return paragraph("The ground has no low spot that would hold water.");
  std::string html = table_html(table);
  if (page.comparison().low_spots.size() > most_rows)
    html +=
        paragraph("Smaller ones are in summary.json: " + std::to_string(page.comparison().low_spots.size()) +
                  " in all.");
  return html + paragraph("Rain that fills it: as if all of it ran off to the low spot.");
}

} // namespace lowspot::report
