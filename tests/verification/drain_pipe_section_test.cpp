// Partial flow in a circular pipe against its exact geometry (Manning, n the same at every depth).
#include <array>
#include <numbers>

#include <lowspot/drain/pipe_section.hpp>

#include "catch.hpp"
#include "figures.hpp"

using namespace lowspot::drain;

TEST_CASE("area, discharge and speed over their full values") {
  struct Row {
    double depth, area, discharge, speed;
  };
  // The figures are printed to six decimals.
  const std::array<Row, 8> table = {{{0.1, 0.052044, 0.020878, 0.401157},
                                     {0.2, 0.142378, 0.087571, 0.615060},
                                     {0.3, 0.252316, 0.195831, 0.776135},
                                     {0.5, 0.5, 0.5, 1.0},
                                     {0.7, 0.747684, 0.837238, 1.119774},
                                     {0.8, 0.857622, 0.977467, 1.139742},
                                     {0.9, 0.947956, 1.065797, 1.124311},
                                     {0.95, 0.981307, 1.074515, 1.094983}}};
  for (const double diameter : {0.1, 0.3}) {
    const double full_area = std::numbers::pi / 4 * diameter * diameter;
    const double full = conveyance(diameter, 0.012, diameter);
    for (const Row& row : table) {
      const double area = wetted_area(diameter, row.depth * diameter) / full_area;
      const double discharge = conveyance(diameter, 0.012, row.depth * diameter) / full;
      CHECK_THAT(area, WithinAbs(row.area, 6e-7));
      CHECK_THAT(discharge, WithinAbs(row.discharge, 6e-7));
      figures::record("drain", "partly full circle", "discharge over that of the full pipe", row.discharge,
                      discharge, figures::amount(6e-7));
      CHECK_THAT(discharge / area, WithinAbs(row.speed, 6e-7));
    }
    CHECK_THAT(greatest_flow(diameter, 0.012, 0.01) / full_flow(diameter, 0.012, 0.01),
               WithinAbs(1.075706, 6e-7));
    CHECK_THAT(conveyance(diameter, 0.012, 0.819629 * diameter) / full, WithinAbs(1, 2e-6));
  }
}

TEST_CASE("full capacity and normal depth of a 100 mm pipe") {
  CHECK_THAT(full_flow(0.1, 0.012, 0.005), WithinRel(3.956887e-3, 1e-6));
  figures::record("drain", "100 mm pipe", "capacity, L/s", (3.956887e-3) * 1e3,
                  (full_flow(0.1, 0.012, 0.005)) * 1e3, figures::share(1e-6));
  CHECK_THAT(full_flow(0.1, 0.012, 0.01), WithinRel(5.595883e-3, 1e-6));
  figures::record("drain", "100 mm pipe", "capacity, L/s", (5.595883e-3) * 1e3,
                  (full_flow(0.1, 0.012, 0.01)) * 1e3, figures::share(1e-6));
  CHECK_THAT(full_flow(0.1, 0.012, 0.02), WithinRel(7.913774e-3, 1e-6));
  figures::record("drain", "100 mm pipe", "capacity, L/s", (7.913774e-3) * 1e3,
                  (full_flow(0.1, 0.012, 0.02)) * 1e3, figures::share(1e-6));
  CHECK_THAT(full_flow(0.1, 0.016, 0.01), WithinRel(4.196912e-3, 1e-6));
  figures::record("drain", "100 mm pipe", "capacity, L/s", (4.196912e-3) * 1e3,
                  (full_flow(0.1, 0.016, 0.01)) * 1e3, figures::share(1e-6));
  const std::array<std::array<double, 2>, 5> rows = {
      {{0.5, 20.1998}, {1, 28.6194}, {2, 41.3130}, {3, 52.1164}, {4, 62.5213}}};
  for (const auto& [litres, millimetres] : rows) {
    CHECK_THAT(normal_depth(0.1, 0.012, 0.01, litres * 1e-3) * 1e3, WithinRel(millimetres, 3e-6));
    figures::record("drain", "100 mm pipe", "normal depth, mm", millimetres,
                    normal_depth(0.1, 0.012, 0.01, litres * 1e-3) * 1e3, figures::share(3e-6));
  }
}
