// How long plants stand in water before they suffer.
#pragma once
#include <lowspot/site/site.hpp>

namespace lowspot::site {

// How long plants of a kind stand soggy roots.
struct HoursLimit {
  double low = not_given, high = not_given; // s of soggy roots: the first plants of the kind suffer, most do
};

// Limit of the plants in a month whose days reach `daily_high` [deg C, not_given: a mild growing season].
// Grass is killed by warm water within a day and outlives weeks of cold (Purdue and Michigan State turf
// extension: 24 h at 30 deg C, up to 60 d at 10 deg C); between 10, 20 and 30 deg C its limit is interpolated
// in the logarithm of the hours. Other plants keep the figures of their catalogue row.
HoursLimit wet_feet_limit(const Plants& plants, double daily_high);

// The limit of grass under water, with the temperature as above.
HoursLimit turf_limit(double daily_high);

bool is_grass(const std::string& kind); // of a cover or of plants

} // namespace lowspot::site
