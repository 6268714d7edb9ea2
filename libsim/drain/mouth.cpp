#include <lowspot/drain/mouth.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/drain/pipe_section.hpp>

namespace lowspot::drain {

double mouth_flow(double rim, double area, double head, double& slope_out) {
  slope_out = 0;
  if (head <= 0) return 0;
  const double root = std::sqrt(head);
  const double weir = grate_weir * rim * head * root;
  const double orifice = grate_orifice * area * std::sqrt(2 * gravity) * root;
  const bool shallow = weir < orifice;
  slope_out = shallow ? 1.5 * weir / head : 0.5 * orifice / head;
  return shallow ? weir : orifice;
}

double depth_over_mouth(const Mouth& mouth, double before, double arriving, double back, double surface,
                        double dt) {
  double low = 0, high = std::max(0.0, before + std::max(0.0, arriving) * dt);
  for (int i = 0; i < 60 && high - low > 1e-9; ++i) {
    const double middle = 0.5 * (low + high);
    double slope = 0;
    const double gone = mouth_flow(mouth.rim, mouth.area, middle - std::max(0.0, back), slope) / surface;
    (middle < before + (arriving - gone) * dt ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

} // namespace lowspot::drain
