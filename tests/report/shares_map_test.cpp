#include "catch.hpp"

#include <lowspot/report/shares_map.hpp>

#include "report/picture.hpp"
#include "report/sample_shares.hpp"

using namespace lowspot::report;

TEST_CASE("the largest source of each wet cell") {
  sample::PageMaker maker;
  sample::add_shares(maker.comparison);
  const auto& record = maker.comparison.designs.front();
  const std::vector<int> largest = largest_source(record, maker.comparison.active, 0.00635);
  for (std::size_t cell = 0; cell < largest.size(); ++cell) {
    const bool wet = maker.comparison.active[cell] && record.max_depth[cell] > 0.00635;
    CHECK(largest[cell] == (wet ? (maker.comparison.grid.column(cell) < 20 ? 0 : 2) : -1));
  }
}

TEST_CASE("the map of sources is drawn") {
  sample::PageMaker maker;
  sample::add_shares(maker.comparison);
  const auto page = maker.page();
  const auto& record = maker.comparison.designs.front();
  const Size size = shares_map_size(page.scene, record);
  const auto pixels = sample::decode(
      png(size, 2, true, [&](cairo_t* context) { draw_shares_map(context, page.scene, record); }));
  CHECK(pixels.width >= 2 * 360);
  CHECK(pixels.inked(0, 0, pixels.width, pixels.height) > 0.3);
}
