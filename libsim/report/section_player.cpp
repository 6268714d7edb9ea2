// The storm and the drying, frame by frame, on a canvas between the ground and the outlines.
#include <algorithm>
#include <cmath>

#include <lowspot/report/draw_map.hpp>
#include <lowspot/report/frames.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/legend_html.hpp>
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

struct PlayerLayer {
  const char* name;
  Scale scale;
  PackedFrames packed;
};

// Water on the ground, and in it where any ever stood there: coarser, since it has no sharp edges.
std::vector<PlayerLayer> player_layers(const Page& page) {
  const results::Comparison& all = page.comparison();
  std::vector<PlayerLayer> layers;
  layers.push_back({"water on the ground", depth_scale(all, page.units()), pack_frames(all)});
  constexpr int coarse = 90;
  PackedFrames perched = pack_frames(all, coarse, 160, &results::Frame::perched);
  if (perched.top > 0)
    layers.push_back({"water in the soil", perched_scale(all, page.units()), std::move(perched)});
  return layers;
}

std::string layer_data(const PlayerLayer& layer, const std::vector<std::size_t>& shown) {
  std::string json = "{\"columns\":" + std::to_string(layer.packed.columns) +
                     ",\"rows\":" + std::to_string(layer.packed.rows) +
                     ",\"wide\":" + fixed(layer.packed.wide, 6) + ",\"high\":" + fixed(layer.packed.high, 6) +
                     ",\"palette\":\"" + palette(layer.scale, layer.packed.top) + "\",\"frames\":[";
  for (const std::size_t design : shown)
    json += (json.back() == '[' ? "\"" : ",\"") + layer.packed.designs[design] + "\"";
  return json + "]}";
}

std::string player_data(const Page& page, const std::vector<PlayerLayer>& layers,
                        const std::vector<std::size_t>& shown) {
  const std::vector<double>& at = layers.front().packed.times;
  std::vector<std::string> times;
  for (const double time : at) times.push_back(time_text(page, time));
  std::string json = "{\"times\":" + quoted(times) + ",\"layers\":[";
  for (const PlayerLayer& layer : layers) json += (json.back() == '[' ? "" : ",") + layer_data(layer, shown);
  json += "],\"standing\":[";
  for (const std::size_t design : shown) {
    const results::DesignRecord& record = page.comparison().designs[design];
    std::vector<std::string> standing;
    for (const double time : at) standing.push_back(standing_text(page, frame_near(record, time)));
    json += (json.back() == '[' ? "" : ",") + quoted(standing);
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

} // namespace

std::string player_section(const Page& page) {
  const results::Comparison& all = page.comparison();
  const std::vector<PlayerLayer> layers = player_layers(page);
  const std::size_t times = layers.front().packed.times.size();
  if (times < 2) return "";
  const double scale =
      std::min(panel_width / (all.grid.nx * all.grid.cell), panel_height / (all.grid.ny * all.grid.cell));
  const MapView view{all.grid, rim, rim, scale};
  const auto ground_picture = [&](const results::DesignRecord* record) {
    return layer({view.width() + 2 * rim, view.height() + 2 * rim}, true,
                 [&](cairo_t* context) { draw_ground(context, view, page.scene, record); });
  };
  const std::string ground = ground_picture(nullptr);
  const std::vector<std::size_t> shown = shown_designs(all);
  std::string html =
      "<div id=\"player-stage\" hidden>\n<div class=\"controls\"><button type=\"button\" "
      "id=\"player-play\">Play"
      "</button><label for=\"player-slider\">Time</label><input type=\"range\" id=\"player-slider\" "
      "min=\"0\" "
      "max=\"" +
      std::to_string(times - 1) +
      "\" value=\"0\" step=\"1\"><output id=\"player-time\" for=\"player-slider\"></output>";
  if (layers.size() > 1) {
    html += "<label>Shows <select id=\"player-layer\">";
    for (std::size_t k = 0; k < layers.size(); ++k)
      html += "<option value=\"" + std::to_string(k) + "\">" + layers[k].name + "</option>";
    html += "</select></label>";
  }
  html += "</div>\n<div class=\"panels\">\n";
  for (std::size_t k = 0; k < shown.size(); ++k) {
    const results::DesignRecord& record = all.designs[shown[k]];
    html += panel(page, view, record.own_elevation.empty() ? ground : ground_picture(&record), shown[k], k);
  }
  html += "</div>\n";
  for (std::size_t k = 0; k < layers.size(); ++k)
    html += legend_html(layers[k].scale, "player-legend-" + std::to_string(k));
  html += "</div>\n";
  html += "<p id=\"player-off\" class=\"quiet\">The moving map needs a browser that runs scripts and is "
          "newer than 2023. "
          "The maps above show the same run without it.</p>\n";
  html += "<script type=\"application/json\" id=\"player-data\">" + player_data(page, layers, shown) +
          "</script>\n";
  return html;
}

} // namespace lowspot::report
