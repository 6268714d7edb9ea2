#include "catch.hpp"

#include <lowspot/report/draw_map.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

namespace {
sample::Pixels sheet(const sample::PageMaker& maker, const std::vector<MapQuantity>& rows) {
  const auto page = maker.page();
  return sample::decode(png(map_sheet_size(page.scene, rows), 1, true,
                            [&](cairo_t* context) { draw_map_sheet(context, page.scene, rows); }));
}
void check_margins(const sample::Pixels& pixels) {
  CHECK(pixels.inked(0, 0, pixels.width, 6) == 0);
  CHECK(pixels.inked(0, pixels.height - 4, pixels.width, pixels.height) == 0);
  CHECK(pixels.inked(0, 0, 6, pixels.height) == 0);
  CHECK(pixels.inked(pixels.width - 6, 0, pixels.width, pixels.height) == 0);
}
} // namespace

TEST_CASE("a sheet is filled and nothing is cut off at its rim") {
  const sample::PageMaker maker;
  const auto both = sheet(maker, {MapQuantity::standing_hours, MapQuantity::max_depth});
  CHECK(both.inked(0, 0, both.width, both.height) > 0.4);
  check_margins(both);
  const auto one = sheet(maker, {MapQuantity::standing_hours});
  CHECK(one.height < both.height);
  check_margins(one);
}

TEST_CASE("long and strange names stay inside the sheet") {
  sample::PageMaker maker;
  maker.comparison.designs[1].name = maker.site.designs[0].name =
      "a very long name of a design that nobody would write but somebody will \xe2\x82\xac & <b>";
  maker.comparison.designs[0].areas[1].name = std::string(120, 'w');
  maker.site.areas[0].name = std::string(200, 'm');
  check_margins(sheet(maker, {MapQuantity::standing_hours}));
}

TEST_CASE("tall yards, single designs and metres make a sheet too") {
  sample::PageMaker maker;
  maker.comparison.units = "m";
  maker.comparison.designs.resize(1);
  check_margins(sheet(maker, {MapQuantity::max_depth}));
  sample::Comparison tall;
  tall.grid = {4, 60, 1, 0, 0};
  tall.elevation.assign(240, 1.0);
  tall.active.assign(240, 1);
  tall.designs.resize(2);
  tall.clear_within = 86400;
  maker.comparison = tall;
  maker.site = {};
  maker.site.outline = {{0, 0}, {4, 0}, {4, 60}, {0, 60}};
  check_margins(sheet(maker, {MapQuantity::standing_hours}));
}

TEST_CASE("at most four columns, and the one the verdict names is among them") {
  auto all = sample::comparison();
  for (const char* name : {"b", "c", "d", "best"}) {
    all.designs.push_back(all.designs[1]);
    all.designs.back().name = name;
  }
  all.verdict.design = "best";
  CHECK(shown_designs(all) == std::vector<std::size_t>{0, 1, 2, 5});
  all.verdict.design = "b";
  CHECK(shown_designs(all) == std::vector<std::size_t>{0, 1, 2, 3});
}
