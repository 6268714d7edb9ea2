// Line charts against time as SVG, in the colours of the page (light or dark) by class names.
#pragma once
#include <string>
#include <utility>
#include <vector>

namespace lowspot::report {

// One line of a chart.
struct ChartLine {
  std::string name;         // in the legend
  std::vector<double> x, y; // its points, in the units of the axes
  int series = 0;           // 0 the yard as it is, 1.. the designs: class "s0", "s1", ...
  int part = 0;             // of several lines of one design the second, third: another stroke
};
// What one chart shows.
struct Chart {
  std::string title, description;                     // read aloud
  std::string x_name, y_name;                         // at the axes, with units
  std::vector<ChartLine> lines;                       // in the order of the legend
  std::vector<double> bar_from, bar_to, bar_value;    // rain, drawn from the top
  std::string bar_name;                               // of those bars
  double x_end = 0;                                   // 0: the end of the lines
  double mark_x = -1;                                 // an upright line here; negative: none
  std::string mark_name;                              // at that line
  double mark_y = -1;                                 // a level line here; negative: none
  std::string mark_y_name;                            // at that line
  std::vector<std::pair<double, std::string>> levels; // more level lines, with their names over them
};
// 720 wide, as high as its legend needs; scales with its container. The legend follows once more as text, for
// narrow screens.
std::string chart_svg(const Chart& chart);

// A round number of ticks from 0 (or low) to cover a range.
std::vector<double> ticks(double low, double high, int most);
// Coordinates in SVG: one decimal, point as the mark.
std::string coordinate(double value);

} // namespace lowspot::report
