// Earth that the designs move: cut, fill and what is over, by area, from the ground before and after cell by
// cell.
#include <algorithm>
#include <cmath>

#include <lowspot/report/html.hpp>
#include <lowspot/report/sections.hpp>

namespace lowspot::report {
namespace {

constexpr double cubic_yard = 0.764554857984; // m3
constexpr double moved = 1e-6;                // m: less is rounding

struct Earth {
  double area = 0, cut = 0, fill = 0, deepest = 0, highest = 0; // m2, m3, m3, m, m
};

void add(Earth& sum, double rise, double cell_area) {
  if (std::abs(rise) < moved) return;
  sum.area += cell_area;
  sum.cut += std::max(-rise, 0.0) * cell_area;
  sum.fill += std::max(rise, 0.0) * cell_area;
  sum.deepest = std::max(sum.deepest, -rise);
  sum.highest = std::max(sum.highest, rise);
}

// By area in the order of the site, the open ground first and the whole last.
std::vector<Earth> earth_of(const results::Comparison& all, const results::DesignRecord& design,
                            std::size_t areas) {
  std::vector<Earth> sums(areas + 2);
  for (std::size_t cell = 0; cell < design.own_elevation.size(); ++cell) {
    if (!all.active[cell]) continue;
    const double rise = design.own_elevation[cell] - all.elevation[cell];
    const int cover = all.cover.empty() ? -1 : all.cover[cell];
    add(sums[cover < 0 ? 0 : static_cast<std::size_t>(cover) + 1], rise, all.grid.cell_area());
    add(sums.back(), rise, all.grid.cell_area());
  }
  return sums;
}

} // namespace

std::string earthworks_section(const Page& page) {
  const results::Comparison& all = page.comparison();
  const Units& units = page.units();
  const Unit volume{units.metric ? 1 : cubic_yard, units.metric ? "m³" : "cu yd"};
  Table table{"Earth moved, in the ground",
              {"design", "where", "on, " + units.area.name, "cut, " + volume.name,
               "deepest, " + units.depth.name, "fill, " + volume.name, "highest, " + units.depth.name,
               "over, " + volume.name},
              {},
              {1}};
  for (const results::DesignRecord& design : all.designs) {
    if (design.own_elevation.size() != all.elevation.size()) continue;
    const std::vector<Earth> sums = earth_of(all, design, page.site().areas.size());
    for (std::size_t k = 0; k < sums.size(); ++k) {
      const Earth& earth = sums[k];
      if (earth.area == 0) continue;
      const bool whole = k + 1 == sums.size();
      table.rows.push_back({design.name,
                            whole    ? "in all"
                            : k == 0 ? "open ground"
                                     : page.site().areas[k - 1].name,
                            figure(earth.area, units.area, 3), figure(earth.cut, volume),
                            figure(earth.deepest, units.depth), figure(earth.fill, volume),
                            figure(earth.highest, units.depth), figure(earth.cut - earth.fill, volume)});
    }
  }
  if (table.rows.empty()) return "";
  return table_html(table) + paragraph(std::string("Between the ground as it is and as the works leave it, "
                                                   "settled. \"Over\" is hauled away, or brought in "
                                                   "where it is negative; loose earth takes up ") +
                                       percent(page.site().ordering.swell - 1) +
                                       " more. Topsoil is stripped first and spread "
                                       "again. What trenches yield is in the take-off.");
}

} // namespace lowspot::report
