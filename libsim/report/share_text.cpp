#include <lowspot/report/share_text.hpp>

#include <cmath>

namespace lowspot::report {

std::string share_text(double share) {
  if (!(share > 0)) return "none";
  const long whole = std::lround(100 * share);
  if (whole == 0) return "under 1 %";
  if (whole == 100 && share < 1) return "over 99 %";
  return std::to_string(whole) + " %";
}

} // namespace lowspot::report
