#include <lowspot/report/cut_profile.hpp>

#include <algorithm>
#include <limits>

#include <lowspot/job/rod_text.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/svg_chart.hpp>

namespace lowspot::report {
namespace {

constexpr double width = 720, height = 256, left = 64, right = 14, top = 50, bottom = 46;

struct View {
  double from = 0, to = 1, low = 0, high = 1;
  double x(double station) const { return left + (width - left - right) * (station - from) / (to - from); }
  double y(double elevation) const {
    return height - bottom - (height - top - bottom) * (elevation - low) / (high - low);
  }
};

std::string text_at(double x, double y, const char* anchor, const std::string& text) {
  return "<text x=\"" + coordinate(x) + "\" y=\"" + coordinate(y) + "\" text-anchor=\"" + anchor + "\">" +
         escape(text) + "</text>\n";
}

template <class Elevation>
std::string line(const View& view, const job::CutRun& run, Elevation elevation) {
  std::string path;
  for (const job::CutStation& station : run.stations)
    path += (path.empty() ? "M" : "L") + coordinate(view.x(station.station)) + " " +
            coordinate(view.y(elevation(station)));
  return path;
}

std::string stroke(const std::string& path, const char* kind, const char* more = "") {
  return "<path class=\"" + std::string(kind) + "\" d=\"" + path + "\"" + more + "/>\n";
}

} // namespace

std::string cut_profile_svg(const job::CutRun& run, const std::vector<job::DugCheck>& checks,
                            const Units& units, bool feet) {
  if (run.stations.size() < 2) return "";
  View view{run.stations.front().station, run.stations.back().station,
            std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};
  std::vector<job::DugCheck> own;
  for (const job::DugCheck& check : checks)
    if (check.reading.run == run.name) own.push_back(check);
  for (const job::CutStation& station : run.stations) {
    view.low = std::min({view.low, station.bottom, station.ground});
    view.high = std::max({view.high, station.ground, station.invert + run.inside_diameter});
  }
  for (const job::DugCheck& check : own) {
    view.low = std::min(view.low, check.reading.bottom);
    view.high = std::max(view.high, check.reading.bottom);
  }
  const double room = std::max(0.05, 0.1 * (view.high - view.low));
  view.low -= room;
  view.high += room;
  std::string svg =
      "<svg class=\"chart\" viewBox=\"0 0 " + coordinate(width) + " " + coordinate(height) +
      "\" role=\"img\"><title>Profile of " + escape(run.name) +
      "</title><desc>Ground, pipe and trench bottom from the outlet up. Heights are drawn larger than "
      "lengths.</desc>\n";
  for (const double tick : ticks(view.low / units.elevation.si, view.high / units.elevation.si, 5)) {
    const double y = view.y(tick * units.elevation.si);
    svg += "<line class=\"grid\" x1=\"" + coordinate(left) + "\" x2=\"" + coordinate(width - right) +
           "\" y1=\"" + coordinate(y) + "\" y2=\"" + coordinate(y) + "\"/>\n";
    svg += text_at(left - 6, y + 4, "end", fixed(tick, units.metric ? 2 : 1));
  }
  for (const double tick : ticks(view.from / units.length.si, view.to / units.length.si, 8))
    svg += text_at(view.x(tick * units.length.si), height - bottom + 18, "middle",
                   job::station_text(tick * units.length.si, feet));
  svg += text_at((left + width - right) / 2, height - 5, "middle", "station, up from the outlet");
  svg += text_at(4, 14, "start", "elevation, " + units.elevation.name);
  std::string pipe = line(view, run, [](const job::CutStation& station) { return station.invert; });
  for (std::size_t k = run.stations.size(); k-- > 0;)
    pipe += "L" + coordinate(view.x(run.stations[k].station)) + " " +
            coordinate(view.y(run.stations[k].invert + run.inside_diameter));
  svg += stroke(pipe + "Z", "pipe");
  svg += stroke(line(view, run, [](const job::CutStation& station) { return station.ground; }), "ground");
  svg += stroke(line(view, run, [](const job::CutStation& station) { return station.bottom; }), "ground",
                " stroke-dasharray=\"5 4\"");
  for (const job::DugCheck& check : own) {
    const double x = view.x(check.reading.station), y = view.y(check.reading.bottom);
    const bool right_depth = check.answer == job::DugAnswer::accept;
    // Shape tells as much as colour: a ring is right, a cross is not.
    svg += right_depth ? "<circle cx=\"" + coordinate(x) + "\" cy=\"" + coordinate(y) +
                             "\" r=\"4\" fill=\"none\" stroke=\"var(--good)\" stroke-width=\"2\"/>\n"
                       : "<path d=\"M" + coordinate(x - 4) + " " + coordinate(y - 4) + "l8 8m0 -8l-8 8\" " +
                             "fill=\"none\" stroke=\"var(--bad)\" stroke-width=\"2.5\"/>\n";
  }
  svg += text_at(width - right, 14, "end", "solid: ground; band: pipe; dashed: trench bottom");
  if (!own.empty()) svg += text_at(width - right, 34, "end", "ring: as dug and right; cross: not");
  return svg + "</svg>\n";
}

} // namespace lowspot::report
