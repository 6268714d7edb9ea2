#include <lowspot/report/band_chart.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/report/html.hpp>
#include <lowspot/report/svg_chart.hpp>
#include <lowspot/report/units.hpp>

namespace lowspot::report {
namespace {
using results::PlausibleFigure;

constexpr double width = 720, left = 20, right = 690, row_height = 46, top = 34;
constexpr std::size_t longest_name = 62; // letters, over its bar
constexpr double least = 0.5;            // h: what is shorter is drawn here

double place(double hours, double most) {
  const double share = std::log(std::max(hours, least) / least) / std::log(most / least);
  return left + std::clamp(share, 0.0, 1.0) * (right - left);
}

std::string text(double x, double y, const std::string& words, const char* anchor, const char* kind) {
  return "<text class=\"" + std::string(kind) + "\" x=\"" + coordinate(x) + "\" y=\"" + coordinate(y) +
         "\" text-anchor=\"" + anchor + "\">" + escape(words) + "</text>\n";
}

std::string line(double x1, double y1, double x2, double y2, const std::string& kind) {
  return "<line class=\"" + kind + "\" x1=\"" + coordinate(x1) + "\" y1=\"" + coordinate(y1) + "\" x2=\"" +
         coordinate(x2) + "\" y2=\"" + coordinate(y2) + "\"/>\n";
}

std::string shortened(const std::string& name, std::size_t most) {
  if (name.size() <= most) return name;
  std::size_t end = most;
  while (end > 0 && (static_cast<unsigned char>(name[end]) & 0xC0) == 0x80) --end; // not within a character
  return name.substr(0, end) + "\u2026";
}

std::string row(const PlausibleFigure& figure, std::size_t design, double y, double most) {
  const std::string series = " s" + std::to_string(series_class(design));
  const double low = place(figure.p10, most), high = place(figure.p90, most),
               middle = place(figure.p50, most);
  std::string svg =
      text(left, y - 10, shortened(figure.place + ", " + figure.design, longest_name), "start", "small");
  svg += "<g><title>" +
         escape(figure.place + ", " + figure.design + ": " + hours_text(figure.p10) + " to " +
                open_hours_text(figure.p90, figure.open_ended)) +
         "</title>";
  svg += line(low, y + 4, std::max(high, low + 2), y + 4, "band" + series);
  svg += line(middle, y - 4, middle, y + 12, "middle" + series) + "</g>\n";
  if (figure.open_ended) svg += text(high + 6, y + 9, "\u2192", "start", "small");
  return svg;
}

} // namespace

std::string band_chart(const Page& page, const results::PlausibleStudy& study) {
  std::vector<std::pair<const PlausibleFigure*, std::size_t>> rows;
  double longest = 0;
  for (const PlausibleFigure& first : study.figures) {
    if (first.what != "standing_hours" || first.design != study.designs.front().name) continue;
    std::vector<std::pair<const PlausibleFigure*, std::size_t>> of_place;
    double wet = 0;
    for (std::size_t d = 0; d < study.designs.size(); ++d)
      for (const PlausibleFigure& figure : study.figures)
        if (figure.what == first.what && figure.place == first.place &&
            figure.design == study.designs[d].name) {
          of_place.emplace_back(&figure, d);
          wet = std::max(wet, figure.p90);
        }
    if (wet < least) continue; // never stands in any design
    rows.insert(rows.end(), of_place.begin(), of_place.end());
    longest = std::max(longest, wet);
  }
  if (rows.empty()) return "";
  const double target = page.comparison().clear_within / 3600;
  const double most = std::max({longest * 1.1, target * 1.2, 4.0});
  const double height = top + row_height * static_cast<double>(rows.size()) + 44;
  const double bottom = height - 40;
  std::string svg =
      "<svg class=\"chart bands\" viewBox=\"0 0 720 " + coordinate(height) +
      "\" role=\"img\" aria-label=\"Hours that water stands, from low to high, a bar a place and "
      "design\">\n";
  for (const double tick : {0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0}) {
    if (tick > most) break;
    const double x = place(tick, most);
    svg += line(x, top - 8, x, bottom, "grid");
    svg += text(x, bottom + 16, coordinate(tick), "middle", "small");
  }
  svg += text(right, bottom + 35, "hours after the rain", "end", "small");
  if (target > least && target < most) {
    const double x = place(target, most);
    svg += line(x, top - 8, x, bottom, "mark") + text(x, top - 14, "target", "middle", "small");
  }
  for (std::size_t k = 0; k < rows.size(); ++k)
    svg += row(*rows[k].first, rows[k].second, top + row_height * (static_cast<double>(k) + 0.5), most);
  return "<figure><figcaption>How long water stands: from the low to the high figure, with the middle "
         "marked</figcaption>" +
         svg + "</svg></figure>\n";
}

} // namespace lowspot::report
