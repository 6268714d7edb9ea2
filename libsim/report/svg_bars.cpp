#include <lowspot/report/svg_bars.hpp>

#include <cmath>
#include <numeric>

#include <lowspot/report/html.hpp>
#include <lowspot/report/source_colors.hpp>
#include <lowspot/report/svg_chart.hpp>

namespace lowspot::report {
namespace {

constexpr double width = 720, names = 168, right = 10;
constexpr double row_height = 38, bar_height = 24, legend_row = 20, letter = 6.6;
constexpr double room_for_figure = 34; // a part narrower than this has no figure written in

double whole(const BarRow& row) {
  return std::accumulate(row.values.begin(), row.values.end(), 0.0);
}

std::string rectangle(double x, double y, double wide, double high, const Rgb& color) {
  return "<rect x=\"" + coordinate(x) + "\" y=\"" + coordinate(y) + "\" width=\"" + coordinate(wide) +
         "\" height=\"" + coordinate(high) + "\" fill=\"" + hex(color) + "\" stroke=\"#fff\"/>\n";
}

std::string words(double x, double y, const std::string& text, const std::string& attributes = "") {
  std::string svg = "<text x=\"";
  svg += coordinate(x) + "\" y=\"" + coordinate(y) + "\"" + attributes;
  return svg.append(">").append(escape(text)).append("</text>\n");
}

std::string bar(const BarChart& chart, const BarRow& row, double y) {
  std::string svg = words(8, y + 12, row.name);
  if (!row.note.empty()) svg += words(8, y + 26, row.note, " class=\"small\"");
  const double sum = whole(row);
  double x = names;
  for (std::size_t k = 0; k < row.values.size() && k < chart.parts.size(); ++k) {
    if (!(row.values[k] > 0)) continue;
    const double share = row.values[k] / sum, wide = share * (width - names - right);
    svg += "<g><title>" + escape(chart.parts[k]) + ", " + std::to_string(std::lround(100 * share)) +
           " %</title>";
    svg += rectangle(x, y, wide, bar_height, chart.colors[k]);
    if (wide >= room_for_figure)
      svg += words(x + wide / 2, y + 16, std::to_string(std::lround(100 * share)) + " %",
                   " text-anchor=\"middle\" style=\"fill:" + hex(ink_on(chart.colors[k])) + "\"");
    svg += "</g>\n";
    x += wide;
  }
  return svg;
}

// Writes the legend from y on and moves y below it.
std::string legend(const BarChart& chart, double& y) {
  std::vector<bool> used(chart.parts.size(), false);
  for (const BarRow& row : chart.rows)
    for (std::size_t k = 0; k < row.values.size() && k < used.size(); ++k)
      if (row.values[k] > 0) used[k] = true;
  std::string svg;
  double x = 8;
  for (std::size_t k = 0; k < chart.parts.size(); ++k) {
    if (!used[k]) continue;
    const double wide = 14 + 6 + letter * static_cast<double>(chart.parts[k].size()) + 20;
    if (x > 8 && x + wide > width - right) {
      x = 8;
      y += legend_row;
    }
    svg += rectangle(x, y, 14, 12, chart.colors[k]) + words(x + 20, y + 10, chart.parts[k]);
    x += wide;
  }
  y += legend_row + 8;
  return svg;
}

} // namespace

std::string bars_svg(const BarChart& chart) {
  double y = 8;
  std::string drawing = legend(chart, y);
  bool some = false;
  for (const BarRow& row : chart.rows) {
    if (!(whole(row) > 0)) continue;
    some = true;
    drawing += bar(chart, row, y);
    y += row_height;
  }
  if (!some) return "";
  return "<svg class=\"chart\" viewBox=\"0 0 " + coordinate(width) + ' ' + coordinate(y) +
         "\" role=\"img\"><title>" + escape(chart.title) + "</title><desc>" + escape(chart.description) +
         "</desc>\n" + drawing + "</svg>\n";
}

} // namespace lowspot::report
