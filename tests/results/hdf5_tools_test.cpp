#include "catch.hpp"

#include <lowspot/results/hdf5_tools.hpp>

#include "results/scratch_folder.hpp"

using namespace lowspot::results;

TEST_CASE("coordinates are dimension scales and grow") {
  const ScratchFolder scratch;
  const auto file = hdf5::create_file((scratch.path / "a.nc").string());
  const auto time = hdf5::coordinate(file, "time", {}, 0, true);
  hdf5::append(time, 0, 5.0);
  hdf5::append(time, 1, 7.0);
  double values[2] = {};
  time.read(values, H5::PredType::NATIVE_DOUBLE);
  CHECK(values[0] == 5.0);
  CHECK(values[1] == 7.0);
  CHECK(time.attrExists("CLASS"));
  CHECK(time.attrExists("_Netcdf4Dimid"));
}

TEST_CASE("a frame beyond the end extends a map, and gaps hold the fill value") {
  const ScratchFolder scratch;
  const auto file = hdf5::create_file((scratch.path / "a.nc").string());
  hdf5::Dimensions dimensions{hdf5::coordinate(file, "time", {}, 0, true),
                              hdf5::coordinate(file, "y", {0, 1}, 1, false),
                              hdf5::coordinate(file, "x", {0, 1, 2}, 2, false), 2, 3};
  const auto map = hdf5::map_variable(file, "depth", dimensions, true);
  hdf5::write_frame(map, 1, 2, 3, {1, 2, 3, 4, 5, 6});
  float values[12] = {};
  map.read(values, H5::PredType::NATIVE_FLOAT);
  CHECK(values[0] == hdf5::fill_value);
  CHECK(values[6] == 1);
  CHECK(values[11] == 6);
}
