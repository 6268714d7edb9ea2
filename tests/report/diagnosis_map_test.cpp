#include "catch.hpp"

#include <filesystem>

#include <lowspot/report/diagnosis_map.hpp>

#include "report/sample_diagnosis.hpp"
#include "results/scratch_folder.hpp"

using namespace lowspot::report;

TEST_CASE("no arrow down the slope crosses the limit of the yard") {
  const auto site = sample::site();
  auto all = sample::diagnosis();
  all.low_spots.clear();
  all.catchment.clear();
  for (const double falls : {-0.05, 0.05}) { // to the east, to the west
    for (std::size_t cell = 0; cell < all.yard.elevation.size(); ++cell)
      all.yard.elevation[cell] = 100 + falls * all.yard.grid.x(all.yard.grid.column(cell));
    const auto pixels = sample::decode(diagnosis_map_png({site, all, units_for("ft")}));
    // Beside the frame, 18 points from the rim, two pixels a point, below the title.
    CHECK(pixels.inked(20, 120, 33, 300) == 0);
    CHECK(pixels.inked(pixels.width - 33, 120, pixels.width - 20, 300) == 0);
  }
}

TEST_CASE("the map is filled, nothing is cut off at its rim, and water leaves a mark") {
  const auto site = sample::site();
  auto all = sample::diagnosis();
  const DiagnosisScene scene{site, all, units_for("ft")};
  const auto pixels = sample::decode(diagnosis_map_png(scene));
  CHECK(pixels.inked(0, 0, pixels.width, pixels.height) > 0.3);
  CHECK(pixels.inked(0, 0, pixels.width, 8) == 0);
  CHECK(pixels.inked(0, pixels.height - 6, pixels.width, pixels.height) == 0);
  CHECK(pixels.inked(0, 0, 8, pixels.height) == 0);
  CHECK(pixels.inked(pixels.width - 8, 0, pixels.width, pixels.height) == 0);
  auto none = sample::diagnosis();
  none.low_spots.clear();
  none.catchment.clear();
  const DiagnosisScene bare{site, none, units_for("ft")};
  const auto other = sample::decode(diagnosis_map_png(bare));
  int different = 0;
  for (std::size_t k = 0; k < std::min(other.argb.size(), pixels.argb.size()); ++k)
    different += other.argb[k] != pixels.argb[k];
  CHECK(different > 10000);
}
