#include <lowspot/report/svg_profile.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/base/text.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/svg_chart.hpp>

namespace lowspot::report {
namespace {

constexpr double width = 720, height = 220, left = 64, right = 14, top = 34, bottom = 46;

struct View {
  double reach = 1, low = 0, high = 1;
  double x(double distance) const { return left + (width - left - right) * distance / reach; }
  double y(double elevation) const {
    return height - bottom - (height - top - bottom) * (elevation - low) / (high - low);
  }
};

using Values = std::vector<double>;

View view_of(const results::RunProfileRecord& profile) {
  View view;
  view.reach = std::max(1e-6, profile.distance.back());
  view.low = std::numeric_limits<double>::infinity();
  view.high = -view.low;
  for (const Values* values :
       {&profile.ground, &profile.invert, &profile.stone_top, &profile.trench_bottom, &profile.highest_water})
    for (const double value : *values)
      if (std::isfinite(value)) {
        view.low = std::min(view.low, value);
        view.high = std::max(view.high, value);
      }
  const double room = std::max(0.05, 0.12 * (view.high - view.low));
  view.low -= room;
  view.high += room;
  return view;
}

std::string line_path(const View& view, const Values& distance, const Values& values, double lift = 0) {
  std::string path;
  for (std::size_t k = 0; k < std::min(distance.size(), values.size()); ++k)
    if (std::isfinite(values[k]))
      path += (path.empty() ? 'M' : 'L') + coordinate(view.x(distance[k])) + ' ' +
              coordinate(view.y(values[k] + lift));
  return path;
}

// The band between two lines.
std::string band(const View& view, const Values& distance, const Values& upper, const Values& lower,
                 double lift, const char* kind) {
  if (upper.size() != distance.size() || lower.size() != distance.size()) return "";
  std::string path = line_path(view, distance, lower);
  for (std::size_t k = distance.size(); k-- > 0;)
    if (std::isfinite(upper[k]))
      path += 'L' + coordinate(view.x(distance[k])) + ' ' + coordinate(view.y(upper[k] + lift));
  std::string svg = "<path class=\"";
  return svg.append(kind).append("\" d=\"").append(path).append("Z\"/>\n");
}

std::string stroke(const std::string& path, const char* kind) {
  std::string svg = "<path class=\"";
  return path.empty() ? "" : svg.append(kind).append("\" d=\"").append(path).append("\"/>\n");
}

std::string label(double x, double y, const char* anchor, const std::string& text) {
  std::string svg = "<text x=\"";
  svg += coordinate(x) + "\" y=\"" + coordinate(y) + "\" text-anchor=\"" + anchor;
  return svg.append("\">").append(escape(text)).append("</text>\n");
}

std::string axes(const View& view, const Units& units) {
  std::string svg;
  for (const double tick : ticks(view.low / units.elevation.si, view.high / units.elevation.si, 6)) {
    const double y = view.y(tick * units.elevation.si);
    svg += "<line class=\"grid\" x1=\"" + coordinate(left) + "\" x2=\"" + coordinate(width - right) +
           "\" y1=\"" + coordinate(y) + "\" y2=\"" + coordinate(y) + "\"/>\n";
    svg += label(left - 6, y + 4, "end", fixed(tick, units.metric ? 2 : 1));
  }
  for (const double tick : ticks(0, view.reach / units.length.si, 10))
    svg += label(view.x(tick * units.length.si), height - bottom + 18, "middle", rounded(tick, 4));
  svg +=
      label((left + width - right) / 2, height - 5, "middle", "distance from the head, " + units.length.name);
  return svg + label(4, 14, "start", "elevation, " + units.elevation.name);
}

std::string legend(bool stone) {
  struct Entry {
    const char* name;
    const char* mark;
  };
  std::vector<Entry> entries = {{"ground", "<path class=\"ground\" d=\"M0 0H20\"/>"}};
  if (stone) entries.push_back({"stone", "<rect class=\"stone\" y=\"-6\" width=\"16\" height=\"10\"/>"});
  entries.push_back({"pipe", "<rect class=\"pipe\" y=\"-5\" width=\"16\" height=\"8\"/>"});
  entries.push_back({"highest water", "<path class=\"water\" d=\"M0 0H20\"/>"});
  // Room for the larger letters of a narrow screen.
  const auto room = [](const Entry& entry) {
    return 36 + 11 * static_cast<double>(std::string(entry.name).size());
  };
  std::string svg;
  double x = width - right;
  for (const Entry& entry : entries) x -= room(entry);
  for (const Entry& entry : entries) {
    svg += "<g transform=\"translate(" + coordinate(x) + " 10)\">" + entry.mark + "</g>";
    svg += label(x + 25, 14, "start", entry.name);
    x += room(entry);
  }
  return svg;
}

} // namespace

std::string profile_svg(const results::RunProfileRecord& profile, const Units& units) {
  if (profile.distance.size() < 2) return "";
  const View view = view_of(profile);
  const bool stone = profile.stone_top.size() == profile.distance.size() &&
                     profile.trench_bottom.size() == profile.distance.size();
  const double fall = profile.invert.size() > 1 ? (profile.invert.front() - profile.invert.back()) /
                                                      std::max(1e-6, profile.distance.back())
                                                : std::numeric_limits<double>::quiet_NaN();
  std::string svg = "<svg class=\"chart\" viewBox=\"0 0 " + coordinate(width) + ' ' + coordinate(height) +
                    "\" role=\"img\"><title>Profile of " + escape(profile.run) + "</title><desc>" +
                    amount(profile.distance.back(), units.length, 3) + " long, the pipe falls " +
                    rounded(100 * fall, 2) +
                    " % on the whole. Heights are drawn larger than lengths.</desc>\n";
  svg += axes(view, units);
  if (stone) svg += band(view, profile.distance, profile.stone_top, profile.trench_bottom, 0, "stone");
  svg += band(view, profile.distance, profile.invert, profile.invert, profile.diameter, "pipe");
  svg += stroke(line_path(view, profile.distance, profile.ground), "ground");
  svg += stroke(line_path(view, profile.distance, profile.highest_water), "water");
  return svg + legend(stone) + "</svg>\n";
}

} // namespace lowspot::report
