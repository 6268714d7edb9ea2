// One process alone: how much a silt loam takes in while water stands on it for an hour (Green and Ampt,
// 1911).
#include <cmath>
#include <cstdio>
#include <lowspot/soil/green_ampt.hpp>

int main() {
  const double conductivity = 1.8e-6, drive = 0.17 * 0.30; // m/s; suction at the front [m] times the deficit
  const double taken = lowspot::soil::infiltrated_while_ponded(conductivity, drive, 0.0, 3600);
  // The law itself, as a check that the right thing was linked: F - drive ln(1 + F / drive) = K t.
  const double residual = taken - drive * std::log(1 + taken / drive) - conductivity * 3600;
  std::printf("%.1f mm in an hour\n", taken * 1000);
  return std::abs(residual) < 1e-9 ? 0 : 1;
}
