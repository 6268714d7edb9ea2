// What the target says of beds.
#pragma once
#include <cmath>

#include <lowspot/site/site.hpp>

namespace lowspot::site {

// Whether beds were promised anything: that their roots do not stand in full ground, or lack water, too long.
inline bool judges_beds(const Target& target) {
  return std::isfinite(target.soggy_hours_limit) || std::isfinite(target.dry_limit) ||
         std::isfinite(target.dry_beyond);
}

} // namespace lowspot::site
