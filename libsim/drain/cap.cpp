#include <lowspot/drain/cap.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace lowspot::drain {

namespace {

constexpr double open_stone_depth = 0.05; // m

struct CapFigures {
  double conductivity = 0, depth = 0;
};

CapFigures figures(const Run& run) {
  if (run.cap.depth > 0) return {run.cap.conductivity, run.cap.depth};
  return {run.stone.conductivity, open_stone_depth};
}

} // namespace

double cap_conductance(const Run& run, const Station& station) {
  const CapFigures cap = figures(run);
  return cap.conductivity * plan_of(station) / cap.depth;
}

Curve cap_flow(double conductance, double cap_depth, double ponded, double head) {
  // Open stone: unit gradient, less as the stone level comes up to the water on the ground.
  const double most = cap_depth > 0 ? cap_depth + ponded : open_stone_depth;
  if (head <= 0) return {};
  return head < most ? Curve{conductance * head, -conductance} : Curve{conductance * most, 0};
}

double wall_conductance_of(const Run& run, const Station& station, double soil_conductivity,
                           double soil_depth, double cell, double of_fabric, double soil_top) {
  if (!run.has_trench || soil_conductivity <= 0 || soil_depth <= 0) return 0;
  const double top = std::isfinite(soil_top) ? soil_top : station.ground;
  const double exposed = std::clamp(top - station.trench_bottom, 0.0, soil_depth);
  const double soil = 2 * soil_conductivity * exposed / std::max(0.25 * cell, 0.01);
  if (run.fabric.permittivity <= 0) return soil;
  const double fabric =
      2 * run.fabric.permittivity / std::max(run.fabric.clogging, 1e-9) * exposed * of_fabric;
  return fabric > 0 ? soil * fabric / (soil + fabric) : 0;
}

} // namespace lowspot::drain
