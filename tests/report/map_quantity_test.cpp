#include "catch.hpp"

#include <lowspot/report/map_quantity.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

TEST_CASE("each quantity has its own field, scale and caption") {
  const sample::PageMaker maker;
  const MapScene scene = maker.page().scene;
  const auto& as_is = maker.comparison.designs[0];
  CHECK(&field_of(as_is, MapQuantity::standing_hours) == &as_is.standing_hours);
  CHECK(&field_of(as_is, MapQuantity::max_depth) == &as_is.max_depth);
  CHECK(&field_of(as_is, MapQuantity::soggy_hours) == &as_is.soggy_hours);
  CHECK(&field_of(as_is, MapQuantity::perched_max) == &as_is.perched_max);
  for (const MapQuantity quantity : {MapQuantity::standing_hours, MapQuantity::max_depth,
                                     MapQuantity::soggy_hours, MapQuantity::perched_max}) {
    const Scale scale = scale_of(scene, quantity);
    CHECK(scale.colors.size() == scale.bounds.size());
    CHECK_FALSE(scale.title.empty());
    CHECK_FALSE(caption_of(scene, quantity, as_is).empty());
  }
  CHECK(caption_of(scene, MapQuantity::standing_hours, as_is).find("long bed") != std::string::npos);
}
