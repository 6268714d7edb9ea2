// A level yard with one straight drain of round figures, for hand arithmetic.
#pragma once
#include <cmath>

#include <lowspot/job/cut_sheet.hpp>

#include "simple_yard.hpp"

constexpr double foot = 0.3048, inch = 0.0254;

// 120 by 20 ft, level at 100 ft, with a lawn as cover.
inline SimpleYard level_yard() {
  SimpleYard yard = simple_yard(240, 40, 0.5 * foot, [](double, double) { return 100 * foot; });
  yard.site.units = "ft";
  yard.site.unit = foot;
  yard.site.lawn.kind = "lawn";
  return yard;
}

inline lowspot::site::Outlet daylight_outlet(const std::string& name, lowspot::Point at) {
  lowspot::site::Outlet outlet;
  outlet.name = name;
  outlet.kind = "daylight";
  outlet.at = at;
  return outlet;
}

// 100 ft of 12 in by 24 in trench with a 4-in pipe under 4 in of sod, falling one foot.
inline lowspot::site::Design round_design() {
  using namespace lowspot;
  site::Design design;
  design.name = "round";
  site::Run run;
  run.name = "main";
  run.path = {{10 * foot, 10 * foot}, {110 * foot, 10 * foot}};
  run.pipe = {"4 in corrugated, slotted", 4 * inch, 4.6 * inch, 0.015, 0.002, 0.61};
  run.trench_width = 12 * inch;
  run.bedding = 2 * inch;
  run.inverts = {98.5 * foot, 97.5 * foot};
  run.stone = {"No. 57, rounded, washed", 0.38, 0.08, 208, 1643};
  run.fabric = {"nonwoven 6 oz", 1.5, 1};
  run.cap = {"sod", 1e-6, 4 * inch, true};
  run.to = "fence";
  design.runs = {run};
  design.outlets = {daylight_outlet("fence", {110 * foot, 10 * foot})};
  return design;
}
