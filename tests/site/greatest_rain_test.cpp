#include <lowspot/site/greatest_rain.hpp>

#include "catch.hpp"

// Measured, as the weather services list them: the curve goes round them from above, and not far off.
TEST_CASE("the greatest rains measured lie under the curve, and near it") {
  struct Record {
    double minutes, depth; // min, mm
  };
  for (const Record& one : {Record{1, 38}, Record{8, 126}, Record{20, 206}, Record{42, 305}, Record{130, 483},
                            Record{1440, 1825}, Record{4 * 1440, 4936}}) {
    const double curve = 1000 * lowspot::site::greatest_rain(one.minutes * 60);
    INFO(one.minutes << " min: " << one.depth << " mm measured, curve " << curve);
    CHECK(one.depth < 1.35 * curve);
    CHECK(one.depth > 0.6 * curve);
  }
  CHECK(lowspot::site::greatest_rain(3600) == Approx(0.42164));
}
