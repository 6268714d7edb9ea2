// Test holes: raw rates, what they mean as conductivity, and what the holes say together.
#include <cmath>

#include <lowspot/report/html.hpp>
#include <lowspot/report/sections.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::report {
namespace {

std::string speed(double value, const site::Site& site) {
  return std::isfinite(value) ? site::written(value, Dimension::speed, site) : "-";
}

void add_row(const site::HoleTest& hole, const site::Site& site, Table& table) {
  const site::Band& k = hole.conductivity;
  const auto length = [&](double value) {
    return std::isfinite(value) && value > 0 ? site::written(value, Dimension::length, site)
                                             : std::string("-");
  };
  table.rows.push_back({hole.name, hole.layer.empty() ? "neither" : hole.layer, length(hole.diameter),
                        length(hole.depth), length(hole.water_depth), speed(hole.raw_rate, site),
                        hole.used ? speed(k.likely, site) : "none",
                        hole.used ? speed(k.low, site) + " to " + speed(k.high, site) : "-"});
}

} // namespace

std::string holes_section(const Page& page) {
  const site::Site& site = page.site();
  Table table{
      "Holes that water was let fall in",
      {"hole", "speaks for", "wide", "deep", "water", "raw rate of fall", "conductivity", "low to high"},
      {},
      {1}};
  std::vector<std::string> together, each;
  for (const site::Soil& soil : site.soils) {
    for (const site::HoleTest& hole : soil.holes) {
      add_row(hole, site, table);
      each.push_back("Hole " + hole.name + ": " + hole.says);
    }
    for (const std::string& sentence : soil.holes_say)
      together.push_back(site.soils.size() > 1 ? soil.name + ", " + sentence : sentence);
  }
  if (table.rows.empty())
    return paragraph("No hole was tested. How slow the tight layer is decides how long water stands more "
                     "than anything else does: a "
                     "hole of a spade's width, presoaked, with the fall of its water written down, is the "
                     "test that would narrow "
                     "these answers most.");
  return list(together) + table_html(table) + list(each);
}

} // namespace lowspot::report
