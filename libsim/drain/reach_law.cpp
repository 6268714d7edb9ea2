#include <lowspot/drain/reach_law.hpp>

#include <cmath>

namespace lowspot::drain {

ReachFlow reach_flow(double conveyance, double drag, double slope, double blur) {
  // The root with |slope| made smooth, multiplied by the conveyance, so that none need be divided by.
  const double size = std::sqrt(slope * slope + blur * blur);
  const double linear = drag * conveyance;
  const double root = std::sqrt(linear * linear + 4 * size);
  const double sum = linear + root;
  ReachFlow flow;
  flow.q = 2 * slope * conveyance / sum;
  flow.by_slope = 2 * conveyance / sum * (1 - 2 * slope * slope / (size * root * sum));
  flow.by_conveyance = 2 * slope / sum * (1 - linear / root);
  flow.by_drag = -2 * slope * conveyance * conveyance / (sum * root);
  return flow;
}

} // namespace lowspot::drain
