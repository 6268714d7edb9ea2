// A yard of round figures with the limits of the catalogue, for hand arithmetic.
#pragma once
#include <cmath>
#include <filesystem>
#include <string>
#include <vector>

#include <lowspot/catalog/tables.hpp>
#include <lowspot/checks/check_design.hpp>
#include <lowspot/checks/works.hpp>

#include "catch.hpp"
#include "simple_yard.hpp"

constexpr double foot = 0.3048, inch = 0.0254;

// 120 by 40 ft, elevation in feet by `feet(x, y)` of feet; cells of half a foot.
inline SimpleYard yard_in_feet(const std::function<double(double, double)>& feet) {
  SimpleYard yard =
      simple_yard(240, 80, 0.5 * foot, [&](double x, double y) { return feet(x / foot, y / foot) * foot; });
  yard.site.units = "ft";
  yard.site.unit = foot;
  make_pervious(yard);
  yard.site.limits =
      lowspot::catalog::read_limits(std::filesystem::path(LOWSPOT_SOURCE_DATA) / "catalog" / "limits.csv");
  return yard;
}

inline SimpleYard level_yard() {
  return yard_in_feet([](double, double) { return 100.0; });
}

inline void set_limit(SimpleYard& yard, const std::string& name, double value) {
  for (lowspot::catalog::PracticeLimit& limit : yard.site.limits)
    if (limit.name == name) limit.value = value, limit.written = "own";
}

// A house with its walls at these feet: its cells inactive.
inline void add_house(SimpleYard& yard, double x0, double y0, double x1, double y1) {
  using namespace lowspot;
  site::Building house;
  house.name = "house";
  house.outline = {
      {x0 * foot, y0 * foot}, {x1 * foot, y0 * foot}, {x1 * foot, y1 * foot}, {x0 * foot, y1 * foot}};
  terrain::Coverage cells;
  const Grid& grid = yard.ground.grid;
  for (std::size_t c = 0; c < grid.cells(); ++c)
    if (contains(house.outline, {grid.x(grid.column(c)), grid.y(grid.row(c))})) {
      yard.ground.active[c] = 0;
      cells.cells.push_back(static_cast<int>(c));
      cells.fractions.push_back(1);
    }
  yard.site.buildings.push_back(house);
  yard.ground.buildings.push_back(cells);
}

// 100 ft of slotted 4-in pipe at y = 10 ft in a 12-in trench on 2 in of bedding; inverts in feet.
inline lowspot::site::Design round_design(double head = 98.5, double foot_invert = 97.5) {
  using namespace lowspot;
  site::Design design;
  design.name = "round";
  site::Run run;
  run.name = "main";
  run.path = {{10 * foot, 10 * foot}, {110 * foot, 10 * foot}};
  run.pipe = {"4 in", 4 * inch, 5 * inch, 0.015, 0.002, 0.61};
  run.trench_width = 12 * inch;
  run.bedding = 2 * inch;
  run.inverts = {head * foot, foot_invert * foot};
  run.stone = {"stone", 0.38, 0.08, 208, 1643};
  run.fabric = {"fabric", 1.5, 1};
  run.cap = {"open stone", 0.08, 0};
  run.to = "fence";
  design.runs = {run};
  site::Outlet outlet;
  outlet.name = "fence";
  outlet.kind = "daylight";
  outlet.at = {110 * foot, 10 * foot};
  design.outlets = {outlet};
  return design;
}

// All of the yard made level at this elevation [ft].
inline lowspot::site::Regrade levelled_to(const SimpleYard& yard, double feet) {
  lowspot::site::Regrade plane;
  plane.name = "lower", plane.kind = "plane";
  plane.outline = yard.site.outline;
  plane.surface = {{0, 0, feet * foot}, {1, 0, feet * foot}, {0, 1, feet * foot}};
  return plane;
}

// The one item of this id (and, when given, of this subject).
inline lowspot::results::CheckRecord the(const std::vector<lowspot::results::CheckRecord>& list,
                                         const std::string& id, const std::string& about = "") {
  const lowspot::results::CheckRecord* found = nullptr;
  for (const lowspot::results::CheckRecord& record : list)
    if (record.id == id && (about.empty() || record.about == about)) {
      INFO("two items of " << id);
      REQUIRE(found == nullptr);
      found = &record;
    }
  INFO("no item of " << id);
  REQUIRE(found != nullptr);
  return *found;
}

inline std::string outcome(const lowspot::results::CheckRecord& record) {
  return lowspot::results::outcome_name(record.outcome);
}
