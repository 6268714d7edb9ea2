// One map, two designs: a bar drawn across it uncovers one or the other, on one scale.
#include <algorithm>
#include <array>

#include <nlohmann/json.hpp>

#include <lowspot/report/html.hpp>
#include <lowspot/report/legend_html.hpp>
#include <lowspot/report/map_quantity.hpp>
#include <lowspot/report/sections.hpp>

namespace lowspot::report {
namespace {

constexpr double widest = 460, highest = 400; // points
constexpr double rim = 8;                     // room for outlets on the edge
constexpr std::array<MapQuantity, 3> quantities = {MapQuantity::standing_hours, MapQuantity::max_depth,
                                                   MapQuantity::perched_max};
// Ten designs in three quantities must not make the page heavy: more of them are drawn coarser.
double pixels_per_point(std::size_t designs) {
  return designs <= 5 ? 1.5 : 1.1;
}

struct Layers {
  const Page& page;
  MapView view;
  Size size;
  double pixels = 1;

  std::string drawn(bool paper, const Drawing& drawing) const {
    return png_source(png(size, pixels, paper, drawing));
  }
  std::string water(const results::DesignRecord& design, MapQuantity quantity) const {
    return drawn(false, [&](cairo_t* context) {
      draw_water(context, view, page.scene, field_of(design, quantity), scale_of(page.scene, quantity));
    });
  }
  std::string ground(const results::DesignRecord* design = nullptr) const {
    return drawn(true, [&](cairo_t* context) { draw_ground(context, view, page.scene, design); });
  }
  std::string works(const results::DesignRecord& design) const {
    return drawn(false, [&](cairo_t* context) { draw_outlines(context, view, page.scene, design); });
  }
};

Layers layers_of(const Page& page) {
  const Grid& grid = page.comparison().grid;
  const double scale = std::min(widest / (grid.nx * grid.cell), highest / (grid.ny * grid.cell));
  const MapView view{grid, rim, rim, scale};
  return {page,
          view,
          {view.width() + 2 * rim, view.height() + 2 * rim},
          pixels_per_point(page.comparison().designs.size())};
}

std::string data(const Layers& layers) {
  nlohmann::ordered_json json;
  json["designs"] = nlohmann::ordered_json::array();
  for (const results::DesignRecord& design : layers.page.comparison().designs) {
    nlohmann::ordered_json one;
    one["name"] = design.name;
    one["works"] = layers.works(design);
    if (!design.own_elevation.empty()) one["ground"] = layers.ground(&design);
    for (const MapQuantity quantity : quantities) {
      one["water"].push_back(layers.water(design, quantity));
      one["says"].push_back(caption_of(layers.page.scene, quantity, design));
    }
    json["designs"].push_back(std::move(one));
  }
  return escape_json(json.dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace));
}

std::string choice(const std::string& id, const std::string& label, const std::vector<std::string>& options,
                   std::size_t chosen) {
  std::string html = "<label>" + label + " <select id=\"" + id + "\">";
  for (std::size_t k = 0; k < options.size(); ++k)
    html += "<option value=\"" + std::to_string(k) + "\"" + (k == chosen ? " selected" : "") + ">" +
            escape(options[k]) + "</option>";
  return html + "</select></label>\n";
}

std::string controls(const Page& page) {
  std::vector<std::string> names, titles;
  std::size_t chosen = 1;
  for (std::size_t k = 0; k < page.comparison().designs.size(); ++k) {
    names.push_back(page.comparison().designs[k].name);
    if (k > 0 && names.back() == page.comparison().verdict.design) chosen = k;
  }
  for (const MapQuantity quantity : quantities) titles.push_back(scale_of(page.scene, quantity).title);
  return "<div class=\"controls swipe-controls\">" + choice("swipe-left", "Left", names, 0) +
         choice("swipe-right", "Right", names, chosen) + choice("swipe-what", "Shows", titles, 0) +
         "</div>\n";
}

std::string side(const char* name) {
  const std::string id = std::string("swipe-") + name;
  return "<div class=\"swipe-side\" id=\"" + id + "-side\"><img alt=\"\" id=\"" + id +
         "-ground\" hidden><img alt=\"\" id=\"" + id + "-water\"><img alt=\"\" id=\"" + id +
         "-works\"></div>";
}

} // namespace

std::string swipe_section(const Page& page) {
  if (page.comparison().designs.size() < 2) return "";
  const Layers layers = layers_of(page);
  std::string html = "<div id=\"swipe-root\" hidden>\n" + controls(page);
  html +=
      "<div class=\"swipe-names\"><p><b id=\"swipe-left-name\"></b> <span id=\"swipe-left-says\"></span></p>"
      "<p><b id=\"swipe-right-name\"></b> <span id=\"swipe-right-says\"></span></p></div>\n";
  html += "<div class=\"swipe-stage paper\"><img alt=\"\" class=\"swipe-ground\" src=\"" + layers.ground() +
          "\">";
  html += side("left") + side("right");
  html += "<input type=\"range\" id=\"swipe-at\" min=\"0\" max=\"100\" value=\"50\" step=\"1\" "
          "aria-label=\"Where the left map ends and the right one begins\">"
          "<div class=\"swipe-bar\" aria-hidden=\"true\"></div></div>\n";
  for (std::size_t k = 0; k < quantities.size(); ++k)
    html += legend_html(scale_of(page.scene, quantities[k]), "swipe-legend-" + std::to_string(k));
  html += "<p class=\"quiet\">Drag across the map, or give it the focus and use the arrow keys. Both sides "
          "share one scale.</p>\n</div>\n";
  html += "<p id=\"swipe-off\" class=\"quiet\">The map to swipe needs a browser that runs scripts. The maps "
          "above show the same.</p>\n";
  return html + "<script type=\"application/json\" id=\"swipe-data\">" + data(layers) + "</script>\n";
}

} // namespace lowspot::report
