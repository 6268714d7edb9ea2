#include "catch.hpp"

#include <lowspot/report/map_panel.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

TEST_CASE("ground, water and outlines each leave their mark") {
  const sample::PageMaker maker;
  const auto page = maker.page();
  const MapView view{maker.comparison.grid, 0, 0, 30};
  const Size size{view.width(), view.height()};
  const auto ground =
      sample::decode(png(size, 1, true, [&](cairo_t* context) { draw_ground(context, view, page.scene); }));
  CHECK(ground.inked(0, 0, ground.width, ground.height) > 0.85); // all but the house
  const auto& record = maker.comparison.designs[0];
  const auto water = sample::decode(png(size, 1, true, [&](cairo_t* context) {
    draw_water(context, view, page.scene, record.standing_hours, hours_scale(maker.comparison));
  }));
  const auto wet = view.at({24 * sample::foot, 15 * sample::foot});
  CHECK(water.inked(static_cast<int>(wet.x) - 3, static_cast<int>(wet.y) - 3, static_cast<int>(wet.x) + 3,
                    static_cast<int>(wet.y) + 3) == 1);
  CHECK(water.inked(0, 0, 60, 60) == 0);
  const auto lines = sample::decode(
      png(size, 1, true, [&](cairo_t* context) { draw_outlines(context, view, page.scene, record); }));
  const double share = lines.inked(0, 0, lines.width, lines.height);
  CHECK(share > 0.02);
  CHECK(share < 0.4);
}

TEST_CASE("where water stands longer than the target there is a black line, otherwise none") {
  const sample::PageMaker maker;
  const auto page = maker.page();
  const MapView view{maker.comparison.grid, 0, 0, 30};
  int black[2] = {0, 0};
  for (int k = 0; k < 2; ++k) {
    const auto pixels = sample::decode(png({view.width(), view.height()}, 1, true, [&](cairo_t* context) {
      draw_water(context, view, page.scene,
                 maker.comparison.designs[static_cast<std::size_t>(k)].standing_hours,
                 hours_scale(maker.comparison));
    }));
    for (const auto pixel : pixels.argb) black[k] += (pixel & 0xe0e0e0u) == 0; // all channels dark
  }
  CHECK(black[0] > 50); // 48 hours as it is
  CHECK(black[1] == 0); // 6 hours with the drain
}

TEST_CASE("level ground has no contours") {
  auto all = sample::yard();
  CHECK(contour_step(all, units_for("ft")) > 0);
  all.elevation.assign(all.grid.cells(), 5.0);
  CHECK(contour_step(all, units_for("ft")) == 0);
}

TEST_CASE("the name of an area stands on what is seen of it, not on an area that lies over it") {
  sample::PageMaker maker;
  lowspot::site::Area lawn;
  lawn.outline = maker.site.outline;
  maker.site.areas.insert(maker.site.areas.begin(), lawn);
  const MapView view{maker.comparison.grid, 0, 0, 30};
  const auto drawn = [&](const std::string& name) {
    maker.site.areas[0].name = name;
    return sample::decode(png({view.width(), view.height()}, 1, true, [&](cairo_t* context) {
      draw_outlines(context, view, maker.page().scene, maker.comparison.designs[0]);
    }));
  };
  const sample::Pixels without = drawn(""), with = drawn("lawn");
  CHECK(with.argb != without.argb);
  // The patio, well inside its outline.
  const auto north_west = view.at({11 * sample::foot, 33 * sample::foot});
  const auto south_east = view.at({33 * sample::foot, 19 * sample::foot});
  bool same = true;
  for (int y = static_cast<int>(north_west.y); y < south_east.y; ++y)
    for (int x = static_cast<int>(north_west.x); x < south_east.x; ++x)
      same = same && with.at(x, y) == without.at(x, y);
  CHECK(same);
}

TEST_CASE("the name of a bed too thin for it stands beside the bed, not over its outline") {
  sample::PageMaker maker;
  maker.site.areas.clear();
  maker.site.designs.clear();
  lowspot::site::Area bed;
  bed.name = "long fern bed";
  constexpr double foot = sample::foot;
  bed.outline = {
      {10 * foot, 14 * foot}, {38 * foot, 14 * foot}, {38 * foot, 15 * foot}, {10 * foot, 15 * foot}};
  maker.site.areas = {bed};
  const MapView view{maker.comparison.grid, 0, 0, 30};
  const auto drawn = [&] {
    const auto page = maker.page();
    return sample::decode(png({view.width(), view.height()}, 1, true, [&](cairo_t* context) {
      draw_outlines(context, view, page.scene, maker.comparison.designs[0]);
    }));
  };
  const auto with = drawn();
  maker.site.areas[0].name.clear();
  const auto without = drawn();
  const auto low = view.at({10 * foot, 14 * foot}), high = view.at({38 * foot, 15 * foot});
  int said = 0, over = 0;
  for (int y = 0; y < with.height; ++y)
    for (int x = 0; x < with.width; ++x) {
      if (with.at(x, y) == without.at(x, y)) continue;
      ++said;
      const bool on_a_line = std::abs(y - low.y) < 1.5 || std::abs(y - high.y) < 1.5;
      over += on_a_line && x > low.x - 1 && x < high.x + 1;
    }
  CHECK(said > 100);
  CHECK(over < 16); // the line that leads to it
}

TEST_CASE("a name that no drawing has room for is cut, not left out") {
  sample::PageMaker maker;
  const MapView view{maker.comparison.grid, 0, 0, 30};
  const auto ink = [&](const std::string& name) {
    maker.site.buildings[0].name = name;
    maker.site.areas[0].name = name;
    const auto page = maker.page();
    const auto pixels = sample::decode(png({view.width(), view.height()}, 1, true, [&](cairo_t* context) {
      draw_outlines(context, view, page.scene, maker.comparison.designs[0]);
    }));
    return pixels.inked(0, 0, pixels.width, pixels.height);
  };
  const double bare = ink(""), named = ink("house");
  std::string endless = "house";
  while (endless.size() < 300) endless += " with the extension of 1987";
  CHECK(named > bare);
  CHECK(ink(endless) > named);
}

TEST_CASE("contours of a design's own ground reach into what it digs, a step apart as those of the yard") {
  sample::PageMaker maker;
  auto& all = maker.comparison;
  const Units units = units_for("ft");
  const double step = contour_step(all, units);
  const auto yard = contour_levels(all, units);
  REQUIRE(yard.size() > 1);
  CHECK(yard[1] - yard[0] == Approx(step));
  auto& own = all.designs[1].own_elevation;
  CHECK(&drawn_ground(all, &all.designs[1]) == &all.elevation);
  own = all.elevation;
  own[0] -= 3.5 * step;
  CHECK(&drawn_ground(all, &all.designs[1]) == &own);
  const auto design = contour_levels(all, units, &all.designs[1]);
  CHECK(design.size() > yard.size());
  CHECK(design[1] - design[0] == Approx(step));
  CHECK(contour_levels(all, units, &all.designs[0]) == yard);
  // A level yard has no step; what is built in it has contours all the same.
  all.elevation.assign(all.elevation.size(), 30.0);
  own.assign(own.size(), 30.0);
  own[0] = 29.5;
  CHECK(contour_step(all, units) == 0);
  CHECK(contour_levels(all, units).empty());
  CHECK(contour_levels(all, units, &all.designs[1]).size() > 1);
}

TEST_CASE("no name stands on a building that it does not name; that of the west one has paper at its west") {
  sample::PageMaker maker;
  maker.site.areas.clear();
  maker.site.designs.clear();
  constexpr double foot = sample::foot;
  lowspot::site::Building ours, theirs;
  ours.name = "our house", theirs.name = "";
  ours.outline = {{0, 4 * foot}, {5 * foot, 4 * foot}, {5 * foot, 30 * foot}, {0, 30 * foot}};
  theirs.outline = {{14 * foot, 0}, {34 * foot, 0}, {34 * foot, 36 * foot}, {14 * foot, 36 * foot}};
  maker.site.buildings = {ours, theirs};
  MapView view{maker.comparison.grid, 80, 0, 5};
  const auto drawn = [&](const std::string& name) {
    maker.site.buildings[0].name = name;
    const auto page = maker.page();
    return sample::decode(png({view.left + view.width(), view.height()}, 1, true, [&](cairo_t* context) {
      draw_outlines(context, view, page.scene, maker.comparison.designs[0]);
    }));
  };
  const auto inked = [&](double from, double to) { // by the name, between these places across
    const auto with = drawn("our house"), without = drawn("");
    int pixels = 0;
    for (int y = 0; y < with.height; ++y)
      for (int x = std::max(0, static_cast<int>(from)); x < std::min<double>(to, with.width); ++x)
        pixels += with.at(x, y) != without.at(x, y);
    return pixels;
  };
  const double east = view.at({14 * foot, 0}).x + 2;
  CHECK(inked(east, east + 19 * foot * view.scale) == 0);
  view.before = 80;
  CHECK(inked(0, view.left) > 50);
  CHECK(inked(east, east + 19 * foot * view.scale) == 0);
}
