#include <lowspot/report/tune_chart.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

#include <lowspot/base/text.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/svg_chart.hpp>
#include <lowspot/report/tune_words.hpp>
#include <lowspot/study/front.hpp>

namespace lowspot::report {
namespace {

constexpr double width = 720, height = 360, left = 58, right = 20, top = 68, bottom = 48;

struct Spot {
  double size = 0, hours = 0;
  const study::Tried* tried = nullptr;
};

struct Axes {
  double low = 0, high = 1, most = 1;
  double x(double size) const { return left + (width - left - right) * (size - low) / (high - low); }
  double y(double hours) const { return height - bottom - (height - top - bottom) * hours / most; }
};

std::string text_at(double x, double y, const char* anchor, const std::string& text, const char* kind = "") {
  return "<text x=\"" + coordinate(x) + "\" y=\"" + coordinate(y) + "\" text-anchor=\"" + anchor +
         "\" class=\"" + kind + "\">" + escape(text) + "</text>\n";
}

std::string line_at(double x1, double y1, double x2, double y2, const char* kind) {
  return "<line x1=\"" + coordinate(x1) + "\" y1=\"" + coordinate(y1) + "\" x2=\"" + coordinate(x2) +
         "\" y2=\"" + coordinate(y2) + "\" class=\"" + kind + "\"/>\n";
}

Axes axes_for(const std::vector<Spot>& spots, double target) {
  Axes axes;
  double low = 1e300, high = -1e300, most = target;
  for (const Spot& spot : spots) {
    low = std::min(low, spot.size);
    high = std::max(high, spot.size);
    most = std::max(most, spot.hours);
  }
  const double margin = std::max(0.06 * (high - low), 0.02 * std::abs(high) + 1e-9);
  axes.low = std::max(0.0, low - margin);
  axes.high = high + margin;
  axes.most = std::max(1e-9, 1.1 * most);
  return axes;
}

std::string frame(const Axes& axes, const std::string& x_name) {
  std::string svg;
  for (const double tick : ticks(0, axes.most, 6)) {
    svg += line_at(left, axes.y(tick), width - right, axes.y(tick), "grid");
    svg += text_at(left - 6, axes.y(tick) + 4, "end", rounded(tick, 4));
  }
  for (const double tick : ticks(axes.low, axes.high, 8)) {
    svg += line_at(axes.x(tick), height - bottom, axes.x(tick), height - bottom + 4, "axis");
    svg += text_at(axes.x(tick), height - bottom + 18, "middle", rounded(tick, 4));
  }
  svg += line_at(left, height - bottom, width - right, height - bottom, "axis");
  svg += text_at((left + width - right) / 2, height - 5, "middle", x_name);
  return svg + text_at(left - 50, 14, "start", "hours that water stands after the rain");
}

// What works is a disc and what fails a cross: told apart without colours, too.
std::string spot_at(double x, double y, const std::string& kind, const std::string& name = "") {
  const std::string title = name.empty() ? "" : "<title>" + escape(name) + "</title>";
  if (kind == "fails")
    return "<path class=\"spot fails\" d=\"M" + coordinate(x - 4.5) + ' ' + coordinate(y - 4.5) +
           "l9 9m0 -9l-9 9\">" + title + "</path>\n";
  return "<circle cx=\"" + coordinate(x) + "\" cy=\"" + coordinate(y) + "\" r=\"" +
         (kind == "quick" ? "4" : "5") + "\" class=\"spot " + kind + "\">" + title + "</circle>\n";
}

std::string legend() {
  const double y = 34; // two rows, with room for the larger letters of a narrow screen
  return spot_at(left + 5, y - 4, "works") + text_at(left + 15, y, "start", "works") +
         spot_at(left + 105, y - 4, "fails") + text_at(left + 115, y, "start", "fails") +
         spot_at(left + 195, y - 4, "quick") + text_at(left + 205, y, "start", "quick look only") +
         "<path class=\"line s1\" d=\"M" + coordinate(left) + ' ' + coordinate(y + 18) + "h26\"/>" +
         text_at(left + 32, y + 22, "start", "nothing smaller does as well");
}

std::string name_of(const Spot& spot, const Axes& axes, const std::string& what) {
  const double x = axes.x(spot.size), y = axes.y(spot.hours);
  const bool at_right = x > 0.6 * width;
  return "<circle cx=\"" + coordinate(x) + "\" cy=\"" + coordinate(y) + "\" r=\"9\" class=\"ring\"/>" +
         text_at(at_right ? x - 13 : x + 13, std::max(top + 10.0, y - 9), at_right ? "end" : "start", what,
                 "small");
}

} // namespace

const char* const tune_chart_style =
    ".chart .spot{stroke-width:2;stroke:var(--raised)}.chart .works{fill:var(--good)}.chart "
    ".fails{fill:none;stroke:var(--bad);stroke-width:2.6}.chart "
    ".quick{fill:none;stroke:var(--quiet);stroke-width:1.6}.chart "
    ".ring{fill:none;stroke:var(--accent);stroke-width:2}"
    // On a telephone it is moved sideways rather than made too small to read.
    "@media screen and (max-width:40rem){.chart.tuning{min-width:38rem}.chart.tuning text{font-size:13px}}";

std::string tune_chart_svg(const site::Site& site, const study::Tuning& tuning) {
  std::vector<Spot> spots;
  const double unit = tuning.by_cost ? 1 : dig_unit(site).si;
  for (const study::Tried& tried : tuning.tried)
    if (tried.best()) spots.push_back({study::size_of(tried) / unit, study::hours_of(*tried.best()), &tried});
  if (spots.empty()) return "";
  const double target = tuning.yard.clear_within / 3600;
  const Axes axes = axes_for(spots, target);
  std::string svg = "<svg class=\"chart tuning\" viewBox=\"0 0 " + coordinate(width) + ' ' +
                    coordinate(height) +
                    "\" role=\"img\"><title>Hours of standing water against the size of the works</title>"
                    "<desc>A point for each combination; the table below has the same figures.</desc>\n";
  svg += frame(axes, tuning.by_cost ? "cost, " + site.ordering.currency : "dug, " + dig_unit(site).name);
  svg += line_at(left, axes.y(target), width - right, axes.y(target), "mark") +
         text_at(width - right, axes.y(target) - 4, "end", "target", "small");
  std::string path;
  for (const Spot& spot : spots)
    if (spot.tried->on_front)
      path +=
          (path.empty() ? 'M' : 'L') + coordinate(axes.x(spot.size)) + ' ' + coordinate(axes.y(spot.hours));
  svg += "<path class=\"line s1\" d=\"" + path + "\"/>\n";
  for (const Spot& spot : spots) {
    const bool full = spot.tried->full.has_value();
    svg += spot_at(axes.x(spot.size), axes.y(spot.hours),
                   !full               ? "quick"
                   : spot.tried->works ? "works"
                                       : "fails",
                   spot.tried->candidate.name);
  }
  const auto name = [&](int index, const std::string& what) {
    for (const Spot& spot : spots)
      if (index >= 0 && spot.tried == &tuning.tried[index]) svg += name_of(spot, axes, what);
  };
  if (tuning.knee == tuning.smallest)
    name(tuning.smallest, "smallest that works, and the bend");
  else {
    name(tuning.smallest, "smallest that works");
    name(tuning.knee, "the bend");
  }
  return svg + legend() + "</svg>\n";
}

} // namespace lowspot::report
