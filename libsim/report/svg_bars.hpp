// Stacked bars as SVG: parts of a whole, a bar a row, with the figures written in.
#pragma once
#include <string>
#include <vector>

#include <lowspot/report/color.hpp>

namespace lowspot::report {

// One bar.
struct BarRow {
  std::string name;           // "long bed"
  std::string note;           // beside the name: "95 gal"
  std::vector<double> values; // one a part; only their ratios count
};
// What one chart of bars shows.
struct BarChart {
  std::string title, description; // read aloud
  std::vector<std::string> parts; // names of the legend
  std::vector<Rgb> colors;        // one a part
  std::vector<BarRow> rows;       // rows without a positive value are left out
};
// The legend as text, then a drawing 720 wide, as high as its rows need; empty without rows. Parts that no
// row has are left out of the legend.
std::string bars_svg(const BarChart& chart);

} // namespace lowspot::report
