#include <lowspot/report/svg_chart.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/units.hpp>

namespace lowspot::report {
namespace {

constexpr double width = 720, plot_height = 146;
constexpr double left = 58, right = 14, bottom = 46, legend_row = 18;

std::string class_of(const ChartLine& line) {
  return "line s" + std::to_string(line.series) +
         (line.part > 0 ? " p" + std::to_string(1 + (line.part - 1) % 2) : "");
}

struct Entry {
  std::string name, mark;
  double mark_width = 0;
  double width() const { return mark_width + 6 + 6.6 * static_cast<double>(name.size()) + 18; }
};

// Rows of the legend, filled from the left.
std::vector<std::vector<Entry>> legend_rows(const Chart& chart) {
  std::vector<Entry> entries;
  if (!chart.bar_value.empty())
    entries.push_back({chart.bar_name, "<rect class=\"rain\" y=\"-6\" width=\"12\" height=\"10\"/>", 12});
  for (const ChartLine& line : chart.lines)
    entries.push_back({line.name, "<path class=\"" + class_of(line) + "\" d=\"M0 0H26\"/>", 26});
  std::vector<std::vector<Entry>> rows;
  double used = width;
  for (const Entry& entry : entries) {
    if (used + entry.width() > width - right) {
      rows.emplace_back();
      used = left;
    }
    rows.back().push_back(entry);
    used += entry.width();
  }
  return rows;
}

struct Frame {
  double top = 0, height = 0; // of the plot and of the whole drawing
  double x_high = 1, y_high = 1, bar_high = 1;
  double x(double value) const { return left + (width - left - right) * value / x_high; }
  double y(double value) const { return height - bottom - plot_height * value / y_high; }
  double bar(double value) const { return top + 0.38 * plot_height * value / bar_high; }
};

Frame frame_of(const Chart& chart) {
  Frame frame;
  frame.top = 26 + legend_row * static_cast<double>(legend_rows(chart).size());
  frame.height = plot_height + frame.top + bottom;
  double x_high = chart.x_end, y_high = chart.mark_y;
  for (const auto& [level, name] : chart.levels) y_high = std::max(y_high, level);
  for (const ChartLine& line : chart.lines)
    for (std::size_t k = 0; k < std::min(line.x.size(), line.y.size()); ++k) {
      if (chart.x_end <= 0) x_high = std::max(x_high, line.x[k]);
      if (std::isfinite(line.y[k]) && (chart.x_end <= 0 || line.x[k] <= chart.x_end))
        y_high = std::max(y_high, line.y[k]);
    }
  if (x_high > 0) frame.x_high = x_high;
  // Lines keep clear of the rain that hangs from the top.
  if (y_high > 0) frame.y_high = y_high * (chart.bar_value.empty() ? 1.08 : 1.65);
  const auto highest = std::max_element(chart.bar_value.begin(), chart.bar_value.end());
  if (highest != chart.bar_value.end() && *highest > 0) frame.bar_high = *highest;
  return frame;
}

std::string text_at(double x, double y, const char* anchor, const std::string& text, const char* kind = "") {
  std::string svg = "<text x=\"";
  svg += coordinate(x) + "\" y=\"" + coordinate(y) + "\" text-anchor=\"" + anchor + "\"";
  if (*kind != '\0') svg.append(" class=\"").append(kind).append("\"");
  return svg.append(">").append(escape(text)).append("</text>\n");
}

std::string line_at(double x1, double y1, double x2, double y2, const char* kind) {
  std::string svg = "<line x1=\"";
  svg += coordinate(x1) + "\" y1=\"" + coordinate(y1) + "\" x2=\"" + coordinate(x2) + "\" y2=\"" +
         coordinate(y2);
  return svg.append("\" class=\"").append(kind).append("\"/>\n");
}

std::string axes(const Chart& chart, const Frame& frame) {
  std::string svg;
  for (const double tick : ticks(0, frame.y_high, 5)) {
    svg += line_at(left, frame.y(tick), width - right, frame.y(tick), "grid");
    svg += text_at(left - 6, frame.y(tick) + 4, "end", rounded(tick, 4));
  }
  for (const double tick : ticks(0, frame.x_high, 10)) {
    svg += line_at(frame.x(tick), frame.height - bottom, frame.x(tick), frame.height - bottom + 4, "axis");
    svg += text_at(frame.x(tick), frame.height - bottom + 18, "middle", rounded(tick, 4));
  }
  svg += line_at(left, frame.height - bottom, width - right, frame.height - bottom, "axis");
  svg += text_at((left + width - right) / 2, frame.height - 5, "middle", chart.x_name);
  svg += text_at(left - 50, 14, "start", chart.y_name);
  return svg;
}

std::string bars(const Chart& chart, const Frame& frame) {
  std::string svg;
  for (std::size_t k = 0; k < chart.bar_value.size(); ++k) {
    if (!(chart.bar_value[k] > 0) || chart.bar_from[k] >= frame.x_high) continue;
    const double x = frame.x(chart.bar_from[k]), end = frame.x(std::min(chart.bar_to[k], frame.x_high));
    svg += "<rect class=\"rain\" x=\"" + coordinate(x) + "\" y=\"" + coordinate(frame.top) + "\" width=\"" +
           coordinate(end - x) + "\" height=\"" + coordinate(frame.bar(chart.bar_value[k]) - frame.top) +
           "\"/>\n";
  }
  return svg;
}

// Points closer than half a unit of the drawing add nothing.
std::string path_of(const ChartLine& line, const Frame& frame) {
  std::string path;
  double last_x = -1e9, last_y = -1e9;
  const std::size_t count = std::min(line.x.size(), line.y.size());
  for (std::size_t k = 0; k < count; ++k) {
    if (!std::isfinite(line.y[k]) || line.x[k] > frame.x_high * (1 + 1e-12)) continue;
    const double x = frame.x(line.x[k]), y = frame.y(line.y[k]);
    const bool first = path.empty();
    if (!first && k + 1 < count && std::abs(x - last_x) < 0.5 && std::abs(y - last_y) < 0.5) continue;
    path += (first ? 'M' : 'L') + coordinate(x) + ' ' + coordinate(y);
    last_x = x;
    last_y = y;
  }
  return path;
}

std::string legend(const Chart& chart) {
  std::string svg = "<g class=\"in-chart\">";
  double y = 14 + legend_row;
  for (const auto& row : legend_rows(chart)) {
    double x = left;
    for (const Entry& entry : row) {
      svg += "<g transform=\"translate(" + coordinate(x) + ' ' + coordinate(y - 4) + ")\">" + entry.mark +
             "</g>\n";
      svg += text_at(x + entry.mark_width + 6, y, "start", entry.name);
      x += entry.width();
    }
    y += legend_row;
  }
  return svg + "</g>\n";
}

// The legend once more, under the drawing: shown instead where the drawing is so small that its letters have
// to be larger than the rows above leave room for.
std::string key(const Chart& chart) {
  std::string html = "<p class=\"key\" aria-hidden=\"true\">";
  for (const auto& row : legend_rows(chart))
    for (const Entry& entry : row)
      html += "<span><svg viewBox=\"0 -7 " + coordinate(entry.mark_width) + " 14\" width=\"" +
              coordinate(entry.mark_width) + "\" height=\"14\">" + entry.mark + "</svg> " +
              escape(entry.name) + "</span> ";
  return html + "</p>\n";
}

} // namespace

std::string coordinate(double value) {
  const std::string text = fixed(value, 1);
  return text.size() > 2 && text.compare(text.size() - 2, 2, ".0") == 0 ? text.substr(0, text.size() - 2)
                                                                        : text;
}

std::vector<double> ticks(double low, double high, int most) {
  std::vector<double> places;
  if (!(high > low) || most < 1) return places;
  double step = std::pow(10.0, std::floor(std::log10((high - low) / most)));
  for (const double factor : {2.0, 2.5, 2.0, 2.0}) {
    if ((high - low) / step <= most) break;
    step *= factor;
  }
  for (double k = std::ceil(low / step - 1e-9); k * step <= high * (1 + 1e-12); ++k)
    places.push_back(k * step);
  return places;
}

std::string chart_svg(const Chart& chart) {
  const Frame frame = frame_of(chart);
  std::string svg = "<svg class=\"chart\" viewBox=\"0 0 " + coordinate(width) + ' ' +
                    coordinate(frame.height) + "\" role=\"img\"><title>" + escape(chart.title) +
                    "</title><desc>" + escape(chart.description) + "</desc>\n";
  svg += axes(chart, frame) + bars(chart, frame);
  for (const ChartLine& line : chart.lines)
    svg += "<path class=\"" + class_of(line) + "\" d=\"" + path_of(line, frame) + "\"/>\n";
  if (chart.mark_x >= 0 && chart.mark_x <= frame.x_high) {
    svg += line_at(frame.x(chart.mark_x), frame.top, frame.x(chart.mark_x), frame.height - bottom, "mark");
    svg += text_at(frame.x(chart.mark_x) + 5, frame.top + 11, "start", chart.mark_name, "small");
  }
  if (chart.mark_y >= 0) {
    svg += line_at(left, frame.y(chart.mark_y), width - right, frame.y(chart.mark_y), "mark");
    svg += text_at(width - right, frame.y(chart.mark_y) - 4, "end", chart.mark_y_name, "small");
  }
  for (const auto& [level, name] : chart.levels) {
    svg += line_at(left, frame.y(level), width - right, frame.y(level), "mark");
    svg += text_at(width - right, frame.y(level) - 4, "end", name, "small");
  }
  svg += legend(chart) + "</svg>\n";
  return legend_rows(chart).empty() ? svg : svg + key(chart);
}

} // namespace lowspot::report
