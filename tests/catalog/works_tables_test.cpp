#include "catch.hpp"

#include <cmath>
#include <filesystem>
#include <fstream>
#include <numbers>
#include <string_view>

#include <lowspot/base/error.hpp>
#include <lowspot/catalog/tables.hpp>

using namespace lowspot;
using namespace lowspot::catalog;

namespace {
const std::filesystem::path folder = LOWSPOT_SOURCE_DATA "/catalog";
template <typename Row>
const Row& named(const std::vector<Row>& rows, std::string_view name) {
  for (const Row& row : rows)
    if (row.name == name) return row;
  throw InputError({"", 0, std::string(name)}, "no such row", "", "");
}
// Full flow at 1 % by Manning's formula [m3/s].
double full_flow(const Pipe& pipe) {
  const double d = pipe.inside_diameter;
  return std::numbers::pi * d * d / 4 * std::pow(d / 4, 2.0 / 3) * 0.1 / pipe.manning_n.value;
}
} // namespace

TEST_CASE("Pipes carry what the tables of the trade say") {
  const auto pipes = read_pipes(folder / "pipes.csv");
  CHECK(full_flow(named(pipes, "3 in corrugated")) == Approx(2.17e-3).epsilon(0.005));
  CHECK(full_flow(named(pipes, "4 in corrugated")) == Approx(4.67e-3).epsilon(0.005));
  CHECK(full_flow(named(pipes, "4 in PVC sewer and drain")) == Approx(7.31e-3).epsilon(0.005));
  CHECK(full_flow(named(pipes, "4 in PVC schedule 40")) == Approx(7.00e-3).epsilon(0.005));
  CHECK(full_flow(named(pipes, "6 in smooth-lined corrugated")) == Approx(17.21e-3).epsilon(0.005));
  CHECK(named(pipes, "4 in corrugated").slot_area == Approx(0.002));
  CHECK(named(pipes, "4 in PVC schedule 40").slot_area == 0);
  CHECK(named(pipes, "4 in PVC SDR 35").slot_area == 0);
  for (const char* name : {"6 in corrugated", "8 in corrugated", "3 in triple-wall", "4 in triple-wall",
                           "3 in PVC sewer and drain", "4 in smooth-lined corrugated"})
    CHECK(named(pipes, name).nominal > 0);
  // The inside is near the nominal size, as the name promises.
  for (const Pipe& pipe : pipes) CHECK(pipe.inside_diameter == Approx(pipe.nominal).epsilon(0.05));
}

TEST_CASE("Stone: density follows from the voids, and flow at unit gradient is far from Darcy's") {
  const auto stones = read_stone(folder / "stone.csv");
  for (const char* name : {"No. 57, rounded, washed", "No. 57, crushed, washed", "No. 4, rounded, washed",
                           "No. 4, crushed, washed", "No. 8, crushed, washed", "pea gravel"})
    CHECK(named(stones, name).conductivity.value > 0.01);
  for (const Stone& stone : stones) {
    INFO(stone.name);
    CHECK(stone.bulk_density == Approx((1 - stone.porosity.value) * 2655).epsilon(0.005));
    const double a = 1 / stone.conductivity.value, b = stone.forchheimer_b;
    const double q = (-a + std::sqrt(a * a + 4 * b)) / (2 * b);
    CHECK(a * q + b * q * q == Approx(1));
    CHECK(q < stone.conductivity.value);
  }
  CHECK(named(stones, "No. 57, rounded, washed").conductivity.value == 0.08);
  CHECK(named(stones, "No. 57, rounded, washed").forchheimer_b == 208);
}

TEST_CASE("Fabric and caps") {
  const auto fabrics = read_fabric(folder / "fabric.csv");
  CHECK(named(fabrics, "nonwoven 8 oz").permittivity.value == 1.35);
  CHECK(named(fabrics, "nonwoven 16 oz").permittivity.value <
        named(fabrics, "nonwoven 3 oz").permittivity.value);
  CHECK(named(fabrics, "woven slit film").permittivity.value < 0.1);
  for (const char* name : {"nonwoven 4 oz", "nonwoven 6 oz", "woven weed fabric"})
    CHECK(named(fabrics, name).opening_size > 1e-4);
  const auto caps = read_caps(folder / "caps.csv");
  CHECK(named(caps, "open stone").depth == 0);
  CHECK(named(caps, "open stone").conductivity.value == 0);
  CHECK(named(caps, "sod").conductivity.value == 0);
  CHECK(named(caps, "sod").depth == Approx(0.1016));
  CHECK(named(caps, "mulch over stone").depth == Approx(0.0508));
  // The grate stands for openings of 0.3 of its area, coefficient 0.6 (Torricelli), to about a third.
  const Cap& grate = named(caps, "grate");
  for (double head : {0.02, 0.05, 0.1}) {
    const double openings = 0.6 * 0.3 * std::sqrt(2 * 9.81 * head);
    const double as_cap = grate.conductivity.value * (head + grate.depth) / grate.depth;
    CHECK(as_cap == Approx(openings).epsilon(0.35));
  }
}

TEST_CASE("A pipe without a wall is refused") {
  const auto scratch = std::filesystem::temp_directory_path() / "lowspot_works_tables_test.csv";
  std::ofstream(scratch)
      << "name,nominal_in,inside_diameter_in,outside_diameter_in,manning_n,slot_area_cm2_m,"
         "source,mark\nodd,3,3,3,0.01,0,made up,default\n";
  CHECK_THROWS_WITH(read_pipes(scratch), ContainsSubstring("without a wall"));
  std::filesystem::remove(scratch);
}
