#include "catch.hpp"

#include <cmath>
#include <filesystem>
#include <fstream>

#include <lowspot/base/error.hpp>
#include <lowspot/gis/ascii_grid.hpp>
#include <lowspot/gis/raster.hpp>

using namespace lowspot;
using namespace lowspot::gis;

namespace {

std::filesystem::path grid_file(const std::string& text) {
  const std::filesystem::path folder = std::filesystem::temp_directory_path() / "lowspot_gis_test";
  std::filesystem::create_directories(folder);
  std::ofstream(folder / "grid.asc", std::ios::binary) << text;
  return folder / "grid.asc";
}

std::string header(const std::string& columns, const std::string& rows, const std::string& side,
                   const std::string& west = "0") {
  return "ncols " + columns + "\nnrows " + rows + "\nxllcorner " + west + "\nyllcorner 0\ncellsize " + side +
         "\nNODATA_value -9999\n";
}

std::string problem(const std::string& text) {
  const std::filesystem::path path = grid_file(text);
  try {
    check_ascii_grid(path);
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

const std::string six = "1 2 3\n4 -9999 6.5e0\n";

} // namespace

TEST_CASE("an ASCII grid as programs write it is taken", "[ascii_grid]") {
  CHECK(problem(header("3", "2", "0.5") + six) == "");
  CHECK(problem(header("3.0", "2.00", "0.5") + six) == "");
  CHECK(problem("NCOLS 3\r\nNROWS 2\r\nXLLCENTER -1.5e2\r\nYLLCENTER +3\r\nDX 1\r\nDY 2\r\n" + six) == "");
  CHECK(problem(header("3", "2", "0,5") + "1,5 2 nan\n-1.#IND 1e-320 1e999") == "");
  CHECK(problem("nrows 2 ncols 3 xllcorner 0 yllcorner 0 cellsize 1 1 2 3 4\n\n5 6\n\n") == "");
}

TEST_CASE("a damaged ASCII grid is refused, with the line", "[ascii_grid]") {
  const auto says = [](const std::string& text, const char* words) {
    CHECK_THAT(problem(text), ContainsSubstring(words));
  };
  says(header("3", "200.5", "1") + six, "grid.asc:2: nrows: found \"200.5\"");
  says(header("2x00", "2", "1") + six, "grid.asc:1: ncols: found \"2x00\"");
  says(header("3", "-2", "1") + six, "nrows");
  says(header("0", "2", "1") + six, "ncols");
  says(header("1e9", "2", "1") + six, "ncols");
  says(header("3", "99999999999", "1") + six, "nrows");
  for (const char* side : {"-1", "0", "nan", "inf", "1x", "1e300", "\"1\""}) {
    INFO(side);
    says(header("3", "2", side) + six, "grid.asc:5: cellsize: found");
  }
  says(header("3", "2", "1e-9", "1e9") + six, "tell apart");
  says(header("3", "2", "1", "inf") + six, "grid.asc:3: xllcorner");
  says(header("3", "2", "1") + "1 2 3\n4 1o0 6\n", "grid.asc:8: found \"1o0\", expected a height");
  says(header("3", "2", "1") + "1 2 3\n4 +-1 6\n", "grid.asc:8: found \"+-1\", expected a height");
  says(header("3", "2", "1") + "1 2 3\n4 5\n", "found 5 heights, expected 6, 3 columns by 2 rows");
  says(header("3", "2", "1") + six + "7\n", "found 7 heights");
  says(header("3", "2", "1") + "1 2 " + std::string(500, '7'), "expected a height");
  says(header("3", "2", "1") + std::string("1 2 3 4 5 6\0\0\0", 14), "expected a height");
  says("ncols 3\nncols 3\nnrows 2\n", "grid.asc:2: ncols: found this keyword twice");
  says("ncols 3\nnrow 2\n" + six, "found \"nrow\", expected \"nrows\"");
  says("ncols 3\nnrows 2\nxllcorner 0\ncellsize 1\n" + six, "yllcorner: found no such keyword");
  says("ncols 3\nnrows 2\nxllcorner 0\nyllcorner 0\n" + six, "cellsize: found no such keyword");
  says("ncols", "ncols: found no such keyword");
  says("", "ncols: found no such keyword");
}

TEST_CASE("a grid that its size shows to be cut off is not read", "[ascii_grid]") {
  CHECK_THAT(problem(header("200", "400000", "1") + six),
             ContainsSubstring("200 columns by 400000 rows") && ContainsSubstring("160000000 bytes"));
}

TEST_CASE("what begins otherwise is no ASCII grid", "[ascii_grid]") {
  CHECK(is_ascii_grid(grid_file("  NCOLS 3\n")));
  CHECK_FALSE(is_ascii_grid(grid_file("II*\0")));
  CHECK_FALSE(is_ascii_grid(grid_file("")));
  CHECK_FALSE(is_ascii_grid(std::filesystem::temp_directory_path()));
  CHECK_FALSE(is_ascii_grid("no/such/file.asc"));
}

#ifdef LOWSPOT_WITH_GDAL
TEST_CASE("the heights of an ASCII grid are those of its text", "[ascii_grid]") {
  const Raster raster = read_raster(grid_file(header("3", "2", "0.5") + six));
  REQUIRE(raster.nx == 3);
  REQUIRE(raster.ny == 2);
  CHECK(raster.at(0, 0) == 4);
  CHECK(raster.at(2, 0) == 6.5);
  CHECK(raster.at(2, 1) == 3);
  CHECK_THROWS_AS(read_raster(grid_file(header("3", "400000", "-1") + six)), InputError);
}
#endif

TEST_CASE("a grid whose corner and centre are mixed is refused: the library would lay it at the origin",
          "[ascii_grid]") {
  const std::string text = "ncols 3\nnrows 2\nxllcorner 10\nyllcenter 20.5\ncellsize 1\n" + six;
  CHECK_THAT(problem(text), ContainsSubstring("grid.asc:4: yllcenter") && ContainsSubstring("yllcorner"));
  CHECK_THAT(problem("ncols 3\nnrows 2\nxllcenter 10\nyllcorner 20\ncellsize 1\n" + six),
             ContainsSubstring("grid.asc:4: yllcorner") && ContainsSubstring("yllcenter"));
}

#ifdef LOWSPOT_WITH_GDAL
TEST_CASE("centres, corners, oblong cells and decimal commas lie where they say", "[ascii_grid]") {
  const auto west = [](const std::string& text) { return read_raster(grid_file(text)).x0; };
  CHECK(west("ncols 3\nnrows 2\nxllcorner 10\nyllcorner 20\ncellsize 0.5\n" + six) == 10);
  CHECK(west("ncols 3\nnrows 2\nxllcenter 10\nyllcenter 20\ncellsize 0.5\n" + six) == 9.75);
  const Raster comma =
      read_raster(grid_file("ncols 3\nnrows 2\nxllcorner 10,5\nyllcorner 20,25\ncellsize 0,5\n"
                            "1,5 2,5 3\n4 5 6,125\n"));
  CHECK(comma.x0 == 10.5);
  CHECK(comma.y0 == 20.25);
  CHECK(comma.dx == 0.5);
  CHECK(comma.at(0, 1) == 1.5);
  CHECK(comma.at(2, 0) == 6.125);
  const Raster oblong = read_raster(
      grid_file("ncols 3\nnrows 2\nxllcenter 10\nyllcenter 20\ndx 1\ndy 2\nnodata_value 4\n" + six));
  CHECK(oblong.x0 == 9.5);
  CHECK(oblong.y0 == 19);
  CHECK(oblong.dy == 2);
  CHECK(std::isnan(oblong.at(0, 0)));
}
#endif
