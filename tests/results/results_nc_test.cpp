#include "catch.hpp"

#include <array>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <fstream>
#include <iterator>
#include <memory>
#include <string>
#include <thread>

#include <H5Cpp.h>

#include <lowspot/base/error.hpp>
#include <lowspot/results/hdf5_tools.hpp>
#include <lowspot/results/output_folder.hpp>
#include <lowspot/results/results_nc.hpp>

#include "results/sample_comparison.hpp"
#include "results/scratch_folder.hpp"

using namespace lowspot;
using namespace lowspot::results;

namespace {

constexpr const char* utm_17 =
    R"(PROJCS["NAD83 / UTM zone 17N",GEOGCS["NAD83",DATUM["North_American_Datum_1983",SPHEROID["GRS 1980",6378137,298.257222101]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["latitude_of_origin",0],PARAMETER["central_meridian",-81],PARAMETER["scale_factor",0.9996],PARAMETER["false_easting",500000],PARAMETER["false_northing",0],UNIT["metre",1],AXIS["Easting",EAST],AXIS["Northing",NORTH],AUTHORITY["EPSG","26917"]])";

std::vector<hsize_t> shape(const H5::DataSet& data) {
  std::vector<hsize_t> size(static_cast<std::size_t>(data.getSpace().getSimpleExtentNdims()));
  data.getSpace().getSimpleExtentDims(size.data());
  return size;
}

std::vector<float> read(const H5::H5File& file, const std::string& name) {
  const H5::DataSet data = file.openDataSet(name);
  std::vector<float> values(static_cast<std::size_t>(data.getSpace().getSimpleExtentNpoints()));
  data.read(values.data(), H5::PredType::NATIVE_FLOAT);
  return values;
}

std::string text_of(const H5::H5Object& object, const std::string& name) {
  const H5::Attribute attribute = object.openAttribute(name);
  std::string text;
  attribute.read(attribute.getStrType(), text);
  return text.c_str();
}

std::string output_of(const std::string& command) {
  const std::unique_ptr<FILE, int (*)(FILE*)> pipe(popen((command + " 2>&1").c_str(), "r"), pclose);
  std::string text;
  std::array<char, 4096> part{};
  while (pipe && std::fgets(part.data(), part.size(), pipe.get()) != nullptr) text += part.data();
  return text;
}

bool on_path(const std::string& program) {
  return std::system(("command -v " + program + " > /dev/null 2>&1").c_str()) == 0;
}

} // namespace

TEST_CASE("maps over time come back as they were written") {
  const ScratchFolder scratch;
  const auto all = sample::comparison();
  const auto path = scratch.path / "results.nc";
  write_results_nc(all, path);
  const H5::H5File file(path.string(), H5F_ACC_RDONLY);
  const auto frames = all.designs[1].frames.size();
  CHECK(shape(file.openDataSet("time")) == std::vector<hsize_t>{frames});
  CHECK(shape(file.openDataSet("ground_elevation")) == std::vector<hsize_t>{40, 60});
  CHECK(shape(file.openDataSet("depth_d_3_in_along_the_patio")) == std::vector<hsize_t>{frames, 40, 60});

  const auto written = read(file, "depth_d_3_in_along_the_patio");
  double worst = 0;
  for (std::size_t k = 0; k < frames; ++k)
    for (std::size_t cell = 0; cell < all.grid.cells(); ++cell) {
      const float value = written[k * all.grid.cells() + cell];
      const float expected = all.active[cell] ? all.designs[1].frames[k].depth[cell] : hdf5::fill_value;
      worst = std::max<double>(worst, std::abs(value - expected));
    }
  CHECK(worst == 0);
  const auto hours = read(file, "standing_hours_as_is");
  CHECK(hours[all.grid.index(24, 15)] ==
        static_cast<float>(all.designs[0].standing_hours[all.grid.index(24, 15)]));
  CHECK(hours[all.grid.index(20, 38)] == hdf5::fill_value); // under the house
}

TEST_CASE("the layout is the one of the CF conventions") {
  const ScratchFolder scratch;
  write_results_nc(sample::comparison(), scratch.path / "results.nc");
  const H5::H5File file((scratch.path / "results.nc").string(), H5F_ACC_RDONLY);
  CHECK(text_of(file.openGroup("/"), "Conventions") == "CF-1.8");
  CHECK(text_of(file.openDataSet("time"), "units") == "seconds since 2000-01-01 00:00:00");
  CHECK(text_of(file.openDataSet("x"), "standard_name") == "projection_x_coordinate");
  CHECK_FALSE(file.openDataSet("x").attrExists("axis"));
  const H5::DataSet depth = file.openDataSet("depth_as_is");
  CHECK(text_of(depth, "units") == "m");
  CHECK(text_of(depth, "long_name") == "depth of water on the ground, as is");
  CHECK(text_of(depth, "grid_mapping") == "/georef/crs");
  CHECK_THAT(text_of(file.openDataSet("/georef/crs"), "spatial_ref"), ContainsSubstring("LOCAL_CS"));
  CHECK(text_of(file.openDataSet("cover"), "flag_meanings") == "lawn patio long_bed");
  const auto x = read(file, "x");
  CHECK(x[0] == Approx(0.5 * 0.3048));
}

TEST_CASE("the same results make the same file to the byte, whenever they are written") {
  const ScratchFolder scratch;
  const auto written = [&](const char* name) {
    write_results_nc(sample::comparison(), scratch.path / name);
    std::ifstream file(scratch.path / name, std::ios::binary);
    return std::string{std::istreambuf_iterator<char>(file), {}};
  };
  const std::string first = written("first.nc");
  const std::time_t second = std::time(nullptr); // times in a file are whole seconds
  while (std::time(nullptr) < second + 1) std::this_thread::sleep_for(std::chrono::milliseconds(20));
  const std::string later = written("later.nc");
  CHECK(first.size() > 1000);
  CHECK((first == later)); // not printed
}

TEST_CASE("a file grows frame by frame and is readable before it is finished") {
  const ScratchFolder scratch;
  const auto all = sample::comparison();
  const auto path = scratch.path / "results.nc";
  ResultsFile growing(all, path);
  growing.add_frame(0, all.designs[0].frames[0]);
  growing.add_frame(0, all.designs[0].frames[1]);
  growing.flush();
  CHECK_FALSE(std::filesystem::exists(path));
  {
    // A copy stands for what a killed run would leave behind.
    const auto copy = scratch.path / "copy.nc";
    std::filesystem::copy_file(part_of(path), copy);
    const H5::H5File file(copy.string(), H5F_ACC_RDONLY);
    CHECK(shape(file.openDataSet("depth_as_is")) == std::vector<hsize_t>{2, 40, 60});
  }
  growing.add_frame(1, all.designs[1].frames[1]); // the second design joins at a known time
  CHECK_THROWS_AS(growing.add_frame(1, Frame{all.designs[0].frames[1].time / 2, {}, {}, {}}),
                  std::invalid_argument);
  CHECK_THROWS_AS(growing.add_frame(1, Frame{0, {1.f}, {}, {}}), std::invalid_argument);
  growing.finish();
  CHECK_FALSE(std::filesystem::exists(part_of(path)));
  const H5::H5File file(path.string(), H5F_ACC_RDONLY);
  CHECK(shape(file.openDataSet("depth_d_3_in_along_the_patio")) == std::vector<hsize_t>{2, 40, 60});
  CHECK(read(file, "depth_d_3_in_along_the_patio")[0] == hdf5::fill_value); // no frame at the start
}

TEST_CASE("a place that cannot be written to is an input error") {
  CHECK_THROWS_AS(write_results_nc(sample::yard(), "/nonexistent/folder/results.nc"), InputError);
}

TEST_CASE("map tools read the file") {
  if (!on_path("gdalinfo")) {
    WARN("gdalinfo is not installed: not checked");
    return;
  }
  const ScratchFolder scratch;
  auto all = sample::comparison();
  write_results_nc(all, scratch.path / "results.nc");
  const std::string local =
      output_of("gdalinfo 'NETCDF:\"" + (scratch.path / "results.nc").string() + "\":depth_as_is'");
  CHECK_THAT(local, ContainsSubstring("Size is 60, 40") && ContainsSubstring("Pixel Size = (0.3048") &&
                        ContainsSubstring("Site grid") && ContainsSubstring("Unit Type: m"));
  CHECK_THAT(local, ContainsSubstring("Band " + std::to_string(all.designs[0].frames.size())));

  all.crs = utm_17;
  all.units = "m";
  write_results_nc(all, scratch.path / "placed.nc");
  const std::string placed =
      output_of("gdalinfo 'NETCDF:\"" + (scratch.path / "placed.nc").string() + "\":max_depth_as_is'");
  CHECK_THAT(placed, ContainsSubstring("UTM zone 17N") && ContainsSubstring("26917"));
}

TEST_CASE("a design that shapes the ground has its own elevation in the file") {
  auto all = sample::comparison();
  all.designs[1].own_elevation = all.elevation;
  for (double& level : all.designs[1].own_elevation) level -= 0.25;
  const ScratchFolder folder;
  const auto path = folder.path / "own.nc";
  write_results_nc(all, path);
  const H5::H5File file(path.string(), H5F_ACC_RDONLY);
  const auto own = read(file, "ground_elevation_d_3_in_along_the_patio"),
             yard = read(file, "ground_elevation");
  REQUIRE(own.size() == yard.size());
  for (std::size_t cell = 0; cell < own.size(); ++cell)
    if (all.active[cell]) REQUIRE_THAT(own[cell], WithinAbs(yard[cell] - 0.25F, 1e-5));
  CHECK_FALSE(file.nameExists("ground_elevation_as_is"));
}

// With the slugs alone, the thickness of the one and the greatest of the other would be "perched_max_drain".
TEST_CASE("designs whose names differ by what maps begin with have maps of their own") {
  for (const bool other_way : {false, true}) {
    auto all = sample::comparison();
    all.designs[0].name = other_way ? "Max drain" : "Drain";
    all.designs[1].name = other_way ? "Drain" : "Max drain";
    const std::size_t cells = all.grid.cells(), seen = all.grid.index(24, 15);
    for (std::size_t design = 0; design < 2; ++design) {
      all.designs[design].frames = {
          {0, {}, std::vector<float>(cells, 0.25F + static_cast<float>(design)), {}}};
      all.designs[design].perched_max.assign(cells, 0.5 + static_cast<double>(design));
    }
    const ScratchFolder scratch;
    write_results_nc(all, scratch.path / "results.nc");
    const H5::H5File file((scratch.path / "results.nc").string(), H5F_ACC_RDONLY);
    const std::string first = other_way ? "max_drain" : "drain",
                      second = other_way ? "drain_2" : "max_drain_2";
    CHECK(read(file, "perched_" + first)[seen] == 0.25F);
    CHECK(read(file, "perched_max_" + first)[seen] == 0.5F);
    CHECK(read(file, "perched_" + second)[seen] == 1.25F);
    CHECK(read(file, "perched_max_" + second)[seen] == 1.5F);
    CHECK(text_of(file.openDataSet("perched_" + second), "long_name") ==
          "saturated thickness over the tight layer, " + all.designs[1].name);
  }
}
