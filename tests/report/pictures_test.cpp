// Every picture file, judged as an eye would at a glance: something is drawn, nothing is cut off at the
// border, and the title, the legend and the scale bar are there. Shares of pixels, never a stored picture.
#include "catch.hpp"

#include <array>
#include <type_traits>

#include <lowspot/report/draw_map.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

namespace {

constexpr double pixels = 1.5; // a point
constexpr int rim = 5;         // pixels that must stay white

sample::Pixels drawn(const sample::PageMaker& maker, const std::vector<MapQuantity>& rows) {
  const MapScene scene = maker.page().scene;
  return sample::decode(png(map_sheet_size(scene, rows), pixels, true,
                            [&](cairo_t* context) { draw_map_sheet(context, scene, rows); }));
}

void judge(const sample::Pixels& map) {
  REQUIRE(map.width > 200);
  const int w = map.width, h = map.height;
  CHECK(map.inked(rim, rim, w - rim, h - rim) > 0.15);
  for (const auto& [x0, y0, x1, y1] :
       {std::array<int, 4>{0, 0, w, rim}, {0, h - rim, w, h}, {0, 0, rim, h}, {w - rim, 0, w, h}})
    CHECK(map.inked(x0, y0, x1, y1) == 0.0);
  CHECK(map.inked(w / 50, h / 100, w / 2, static_cast<int>(45 * pixels)) > 0.01); // title
  CHECK(map.inked(w / 50, h - static_cast<int>(100 * pixels), w / 2, h - static_cast<int>(45 * pixels)) >
        0.01);                                                                          // legend
  CHECK(map.inked(w / 2, h - static_cast<int>(40 * pixels), w - rim, h - rim) > 0.002); // scale bar
}

// The yard with so many designs, named at length.
sample::PageMaker yard_with(int designs) {
  sample::PageMaker maker;
  auto& all = maker.comparison.designs;
  const auto proposed = all[1];
  all.resize(1);
  for (int k = 1; k <= designs; ++k) {
    all.push_back(proposed);
    all.back().name = "design " + std::to_string(k) +
                      " \u00e9\U0001F33F with a long name, \"quoted\" <b>and</b> more of it";
  }
  return maker;
}

} // namespace

TEST_CASE("maps of no, one and ten designs are whole") {
  for (const int designs : {0, 1, 10}) {
    INFO(designs << " designs");
    judge(drawn(yard_with(designs), {MapQuantity::standing_hours, MapQuantity::max_depth}));
  }
}

TEST_CASE("maps of a yard where nothing stands are whole, and show no water") {
  sample::PageMaker dry = yard_with(1);
  const sample::Pixels wet = drawn(dry, {MapQuantity::max_depth});
  for (auto& design : dry.comparison.designs)
    for (auto* field : {&design.max_depth, &design.standing_hours, &design.perched_max, &design.soggy_hours})
      field->assign(field->size(), 0.0);
  const auto blue = [](const sample::Pixels& map) {
    double count = 0;
    for (int y = map.height / 5; y < 4 * map.height / 5; ++y)
      for (int x = 0; x < map.width; ++x) {
        const std::uint32_t p = map.at(x, y);
        count += static_cast<int>(p & 255u) > static_cast<int>(p >> 16 & 255u) + 25;
      }
    return count / (map.width * map.height);
  };
  const sample::Pixels map = drawn(dry, {MapQuantity::max_depth});
  judge(map);
  CHECK(blue(wet) > blue(map) + 0.01);
  judge(drawn(dry, {MapQuantity::soggy_hours, MapQuantity::perched_max}));
}

TEST_CASE("maps of long and of tall yards are whole") {
  for (const bool tall : {false, true}) {
    sample::PageMaker maker = yard_with(1);
    auto& all = maker.comparison;
    const int nx = tall ? 12 : 60, ny = tall ? 40 : 8;
    const auto cut = [&](auto& field) {
      std::remove_reference_t<decltype(field)> kept;
      for (int j = 0; j < ny; ++j)
        for (int i = 0; i < nx; ++i) kept.push_back(field[static_cast<std::size_t>(j) * 60 + i]);
      field = kept;
    };
    cut(all.elevation);
    cut(all.active);
    cut(all.cover);
    for (auto& design : all.designs)
      for (auto* field :
           {&design.max_depth, &design.standing_hours, &design.perched_max, &design.soggy_hours})
        cut(*field);
    all.grid.nx = nx;
    all.grid.ny = ny;
    judge(drawn(maker, {MapQuantity::standing_hours}));
  }
}
