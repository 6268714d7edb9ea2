#include <lowspot/report/map_quantity.hpp>

#include <lowspot/report/key_figures.hpp>

namespace lowspot::report {

const Field& field_of(const results::DesignRecord& design, MapQuantity quantity) {
  switch (quantity) {
  case MapQuantity::standing_hours:
    return design.standing_hours;
  case MapQuantity::soggy_hours:
    return design.soggy_hours;
  case MapQuantity::perched_max:
    return design.perched_max;
  default:
    return design.max_depth;
  }
}

Scale scale_of(const MapScene& scene, MapQuantity quantity) {
  switch (quantity) {
  case MapQuantity::standing_hours:
    return hours_scale(scene.comparison);
  case MapQuantity::soggy_hours:
    return soggy_scale(scene.comparison);
  case MapQuantity::perched_max:
    return perched_scale(scene.comparison, scene.units);
  default:
    return depth_scale(scene.comparison, scene.units);
  }
}

std::string caption_of(const MapScene& scene, MapQuantity quantity, const results::DesignRecord& design) {
  switch (quantity) {
  case MapQuantity::standing_hours:
    return hours_caption(design);
  case MapQuantity::soggy_hours:
    return soggy_caption(design);
  case MapQuantity::perched_max:
    return perched_caption(design, scene.units);
  default:
    return depth_caption(design, scene.units);
  }
}

} // namespace lowspot::report
