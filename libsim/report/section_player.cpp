// The storm and the drying, frame by frame, on a canvas between the ground and the outlines.
#include <algorithm>
#include <cmath>

#include <lowspot/report/draw_map.hpp>
#include <lowspot/report/frames.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/sections.hpp>
#include <lowspot/results/hydrographs_csv.hpp>

namespace lowspot::report {
namespace {

constexpr double panel_width = 440;  // points
constexpr double panel_height = 400; // at most
constexpr double pixels_per_point = 1.5;
constexpr double rim = 8; // room for outlets on the edge

// Text of our own making only: figures and units.
std::string quoted(const std::vector<std::string>& texts) {
  std::string json = "[";
  for (const std::string& text : texts) {
    if (json.size() > 1) json += ',';
    json += '"' + text + '"';
  }
  return json + ']';
}

// Colour of each byte value as rrggbbaa, one after the other.
std::string palette(const Scale& scale, double top) {
  std::string text;
  for (int value = 0; value < 256; ++value) {
    const int k = class_of(scale, value / 255.0 * top / scale.unit_si);
    text += k < 0 ? "00000000" : hex(scale.colors[static_cast<std::size_t>(k)]).substr(1) + "f0";
  }
  return text;
}

std::string time_text(const Page& page, double time) {
  const double end = page.comparison().end_of_rain;
  if (time > end) return clock_text(time - end) + " after the rain";
  const double rain = results::rain_at(page.comparison(), time);
  return clock_text(time) + " into the storm" +
         (rain > 0 ? ", raining " + amount(rain, page.units().rain) : "");
}

// What stands deeper than the target depth in a frame: figures from the full frame, not from the picture.
std::string standing_text(const Page& page, const results::Frame* frame) {
  const results::Comparison& all = page.comparison();
  if (frame == nullptr || frame->depth.size() != all.grid.cells()) return "";
  double cells = 0, depth = 0;
  for (std::size_t cell = 0; cell < all.grid.cells(); ++cell)
    if (all.active[cell] && frame->depth[cell] > all.standing_depth) {
      cells += 1;
      depth += frame->depth[cell];
    }
  if (cells == 0) return "no water standing";
  return amount(cells * all.grid.cell_area(), page.units().area) + " standing, " +
         amount(depth * all.grid.cell_area(), page.units().volume);
}

std::string player_data(const Page& page, const PackedFrames& packed, const std::vector<std::size_t>& shown) {
  std::vector<std::string> times;
  for (const double time : packed.times) times.push_back(time_text(page, time));
  std::string json =
      "{\"columns\":" + std::to_string(packed.columns) + ",\"rows\":" + std::to_string(packed.rows);
  json += ",\"palette\":\"" + palette(depth_scale(page.comparison(), page.units()), packed.top) + "\"";
  json += ",\"times\":" + quoted(times) + ",\"designs\":[";
  for (std::size_t k = 0; k < shown.size(); ++k) {
    const results::DesignRecord& design = page.comparison().designs[shown[k]];
    std::vector<std::string> standing;
    for (const double time : packed.times) standing.push_back(standing_text(page, frame_near(design, time)));
    json += k > 0 ? "," : "";
    json += "{\"frames\":\"" + packed.designs[shown[k]] + "\",\"standing\":" + quoted(standing) + "}";
  }
  return escape_json(json + "]}");
}

std::string layer(const Size& size, bool paper, const Drawing& drawing) {
  return png_source(png(size, pixels_per_point, paper, drawing));
}

// Place of the canvas over the ground picture, which has a rim.
std::string inset(const MapView& view) {
  const double width = view.width() + 2 * rim, height = view.height() + 2 * rim;
  const auto share = [](double part, double whole) { return fixed(100 * part / whole, 3) + "%"; };
  return "left:" + share(rim, width) + ";top:" + share(rim, height) + ";width:" + share(view.width(), width) +
         ";height:" + share(view.height(), height);
}

std::string panel(const Page& page, const MapView& view, const std::string& ground, std::size_t design,
                  std::size_t place) {
  const results::DesignRecord& record = page.comparison().designs[design];
  const Size size{view.width() + 2 * rim, view.height() + 2 * rim};
  const std::string outlines =
      layer(size, false, [&](cairo_t* context) { draw_outlines(context, view, page.scene, record); });
  const std::string id = "standing-" + std::to_string(place);
  std::string html =
      "<figure><figcaption><b>" + escape(record.name) + "</b> <span id=\"" + id + "\"></span></figcaption>";
  html += "<div class=\"stack paper\"><img alt=\"\" src=\"" + ground +
          "\"><canvas role=\"img\" aria-label=\"Depth of water, ";
  html += escape(record.name) + "\" style=\"" + inset(view) + "\" aria-describedby=\"player-time " + id +
          "\"></canvas><img alt=\"\" src=\"" + outlines;
  return html + "\"></div></figure>\n";
}

std::string legend(const Scale& scale) {
  std::string html = "<p class=\"legend\">Depth, " + escape(scale.unit) + ": ";
  for (std::size_t k = 0; k < scale.bounds.size(); ++k) {
    const Unit plain{1, ""};
    html +=
        "<span><i style=\"background:" + hex(scale.colors[k]) + "\"></i>" + figure(scale.bounds[k], plain, 3);
    html += k + 1 < scale.bounds.size() ? "\u2013" + figure(scale.bounds[k + 1], plain, 3) : " and more";
    html += "</span> ";
  }
  return html + "</p>\n";
}

} // namespace

std::string player_section(const Page& page) {
  const results::Comparison& all = page.comparison();
  const PackedFrames packed = pack_frames(all);
  if (packed.times.size() < 2) return "";
  const double scale =
      std::min(panel_width / (all.grid.nx * all.grid.cell), panel_height / (all.grid.ny * all.grid.cell));
  const MapView view{all.grid, rim, rim, scale};
  const std::string ground = layer({view.width() + 2 * rim, view.height() + 2 * rim}, true,
                                   [&](cairo_t* context) { draw_ground(context, view, page.scene); });
  const std::vector<std::size_t> shown = shown_designs(all);
  std::string html =
      "<div id=\"player-stage\" hidden>\n<div class=\"controls\"><button type=\"button\" "
      "id=\"player-play\">Play"
      "</button><label for=\"player-slider\">Time</label><input type=\"range\" id=\"player-slider\" "
      "min=\"0\" "
      "max=\"" +
      std::to_string(packed.times.size() - 1) +
      "\" value=\"0\" step=\"1\"><output id=\"player-time\" for=\"player-slider\"></output></div>\n"
      "<div class=\"panels\">\n";
  for (std::size_t k = 0; k < shown.size(); ++k) html += panel(page, view, ground, shown[k], k);
  html += "</div>\n" + legend(depth_scale(all, page.units())) + "</div>\n";
  html += "<p id=\"player-off\" class=\"quiet\">The moving map needs a browser that runs scripts and is "
          "newer than 2023. "
          "The maps above show the same run without it.</p>\n";
  html += "<script type=\"application/json\" id=\"player-data\">" + player_data(page, packed, shown) +
          "</script>\n";
  return html;
}

} // namespace lowspot::report
