#include <lowspot/report/svg_bars.hpp>

#include <algorithm>
#include <numeric>

#include <lowspot/report/html.hpp>
#include <lowspot/report/share_text.hpp>
#include <lowspot/report/source_colors.hpp>
#include <lowspot/report/svg_chart.hpp>

namespace lowspot::report {
namespace {

constexpr double width = 720, left = 8, right = 10;
constexpr double row_height = 58, bar_height = 26; // a line of words, then the bar
constexpr double room_for_figure = 50;             // a part narrower than this has no figure written in

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
  std::string svg = words(left, y + 14, row.name + (row.note.empty() ? "" : ": " + row.note));
  y += 22;
  const double sum = whole(row);
  double x = left;
  for (std::size_t k = 0; k < row.values.size() && k < chart.parts.size(); ++k) {
    if (!(row.values[k] > 0)) continue;
    const double share = row.values[k] / sum, wide = share * (width - left - right);
    svg += "<g><title>" + escape(chart.parts[k]) + ", " + share_text(share) + "</title>";
    svg += rectangle(x, y, wide, bar_height, chart.colors[k]);
    if (wide >= room_for_figure)
      svg += words(x + wide / 2, y + 19, share_text(share),
                   " text-anchor=\"middle\" style=\"fill:" + hex(ink_on(chart.colors[k])) + "\"");
    svg += "</g>\n";
    x += wide;
  }
  return svg;
}

// As text, which flows on a screen of any width.
std::string legend(const BarChart& chart) {
  std::string html = "<p class=\"legend\">";
  for (std::size_t k = 0; k < chart.parts.size(); ++k) {
    const bool used = std::any_of(chart.rows.begin(), chart.rows.end(), [&](const BarRow& row) {
      return k < row.values.size() && row.values[k] > 0;
    });
    if (used)
      html += "<span><i style=\"background:" + hex(chart.colors[k]) + "\"></i>" + escape(chart.parts[k]) +
              "</span> ";
  }
  return html + "</p>\n";
}

} // namespace

std::string bars_svg(const BarChart& chart) {
  double y = 4;
  std::string drawing;
  bool some = false;
  for (const BarRow& row : chart.rows) {
    if (!(whole(row) > 0)) continue;
    some = true;
    drawing += bar(chart, row, y);
    y += row_height;
  }
  if (!some) return "";
  return legend(chart) + "<svg class=\"chart\" viewBox=\"0 0 " + coordinate(width) + ' ' + coordinate(y) +
         "\" role=\"img\"><title>" + escape(chart.title) + "</title><desc>" + escape(chart.description) +
         "</desc>\n" + drawing + "</svg>\n";
}

} // namespace lowspot::report
