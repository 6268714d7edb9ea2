// One soil column alone: an hour of rain on silt loam, what goes in and what stands (Green and Ampt, 1911).
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <lowspot/soil/column.hpp>

int main() {
  namespace soil = lowspot::soil;
  // Depth, porosity, field capacity, wilting point, residual, K [m/s], suction [m], pore-size index,
  // drainable.
  const soil::Parameters silt_loam{1.0, 0.486, 0.284, 0.135, 0.015, 1.8e-6, 0.167, 0.211, 0.06};
  soil::Columns columns = soil::make_columns({silt_loam}, {0}, {1}, {0.30});
  const double rain = 25e-3 / 3600, dt = 60; // m/s, s
  std::vector<double> table{0}, standing{0}, supply{rain}, capacity{0}, entering{0}, recharge{0};
  double taken = 0;
  for (int minute = 1; minute <= 60; ++minute) {
    soil::infiltration_capacity(columns, table, standing, supply, dt, capacity);
    entering[0] = std::min(capacity[0] * dt, standing[0] + rain * dt);
    soil::infiltrate(columns, table, entering, dt, recharge);
    standing[0] += rain * dt - entering[0];
    taken += entering[0];
    if (minute % 15 == 0)
      std::printf("%2d min: %4.1f mm in, %4.1f mm stand\n", minute, taken * 1e3, standing[0] * 1e3);
  }
  return std::abs(taken + standing[0] - 25e-3) < 1e-12 ? 0 : 1; // every drop of the rain
}
