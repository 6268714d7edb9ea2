#include "catch.hpp"

#include <cmath>
#include <sstream>

#include <lowspot/terrain/raster_ground.hpp>
#include <lowspot/terrain/yard_grid.hpp>

#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
// An ASCII grid of cells of `cell` from (0, 0), heights by column and row from the south; NaN is no data.
template <class Height>
void write_grid(const std::string& name, int nx, int ny, double cell, Height height) {
  std::ostringstream text;
  text.precision(12);
  text << "ncols " << nx << "\nnrows " << ny << "\nxllcorner 0\nyllcorner 0\ncellsize " << cell
       << "\nNODATA_value -9999\n";
  for (int j = ny - 1; j >= 0; --j)
    for (int i = 0; i < nx; ++i) {
      const double z = height(i, j);
      text << (std::isnan(z) ? -9999 : z) << (i + 1 < nx ? ' ' : '\n');
    }
  write_file(name, text.str());
}
struct Read {
  Grid grid;
  HeightMap map;
  Field z;
  Mask outside;
  std::vector<std::string> warnings;
  std::vector<site::Assumption> assumptions;
};
Read read(const site::Site& site) {
  Read result;
  result.grid = make_grid(site, site.cell);
  result.outside.assign(result.grid.cells(), 0);
  result.map = read_height_map(site, result.grid, result.warnings, result.assumptions);
  result.z = heights_on(result.map, result.grid, Mask(result.grid.cells(), 1), result.outside,
                        result.assumptions, result.warnings);
  return result;
}
bool assumed(const Read& result, const std::string& key) {
  for (const site::Assumption& a : result.assumptions)
    if (a.key == key) return true;
  return false;
}
} // namespace

TEST_CASE("bilinear sampling is exact on a plane and level beyond the raster", "[raster_ground]") {
  HeightMap map;
  map.raster.nx = 6;
  map.raster.ny = 5;
  map.raster.dx = 2;
  map.raster.dy = 1;
  map.raster.x0 = 100;
  map.raster.y0 = 50;
  for (int j = 0; j < 5; ++j)
    for (int i = 0; i < 6; ++i) map.raster.z.push_back(3 + 0.1 * (2 * i + 1) - 0.2 * (j + 0.5));
  map.hole.assign(30, 0);
  for (double x : {101.0, 104.3, 110.9})
    for (double y : {50.5, 52.2, 54.4}) {
      const SampledHeight h = height_at(map, {x, y});
      CHECK_THAT(h.z, WithinAbs(3 + 0.1 * (x - 100) - 0.2 * (y - 50), 1e-12));
      CHECK_FALSE(h.outside);
    }
  CHECK(height_at(map, {99, 52}).outside);
  CHECK(height_at(map, {105, 56}).outside);
  CHECK_FALSE(height_at(map, {100.1, 50.1}).outside);
  CHECK_THAT(height_at(map, {90, 50.5}).z, WithinAbs(3 + 0.1 - 0.1, 1e-12));
}

#ifdef LOWSPOT_WITH_GDAL
TEST_CASE("coordinates are in site units, heights in the unit stated", "[raster_ground]") {
  write_grid("feet.asc", 80, 60, 1, [](int i, int j) { return 100 + 0.1 * (i + 0.5) - 0.05 * (j + 0.5); });
  site::Site site = plain_site(rectangle(10 * 0.3048, 10 * 0.3048, 70 * 0.3048, 50 * 0.3048), 0.5 * 0.3048);
  site.units = "ft";
  site.unit = 0.3048;
  site.ground.raster = "feet.asc";
  Read result = read(site);
  CHECK(assumed(result, "ground.raster_units"));
  for (std::size_t c = 0; c < result.z.size(); c += 7) {
    const double x = result.grid.x(result.grid.column(c)) / 0.3048,
                 y = result.grid.y(result.grid.row(c)) / 0.3048;
    CHECK_THAT(result.z[c], WithinAbs((100 + 0.1 * x - 0.05 * y) * 0.3048, 1e-9));
    CHECK_FALSE(result.outside[c]);
  }
  site.ground.raster_unit = 1;
  result = read(site);
  CHECK_FALSE(assumed(result, "ground.raster_units"));
  CHECK_THAT(result.z[0], WithinAbs(100 + 0.1 * 10.25 - 0.05 * 10.25, 1e-9));
}

TEST_CASE("a raster in metres under a site in feet is taken in its own unit where only that meets the yard",
          "[raster_ground]") {
  write_grid("metres.asc", 60, 60, 1, [](int i, int) { return 5 + 0.1 * (i + 0.5); });
  write_file("metres.prj",
             "PROJCS[\"grid\",GEOGCS[\"g\",DATUM[\"D_WGS_1984\",SPHEROID[\"WGS_1984\",6378137,"
             "298.257223563]],PRIMEM[\"Greenwich\",0],UNIT[\"Degree\",0.0174532925199433]],PROJECTION["
             "\"Transverse_Mercator\"],PARAMETER[\"Central_Meridian\",-87],PARAMETER[\"Scale_Factor\","
             "0.9996],UNIT[\"Meter\",1]]");
  site::Site site =
      plain_site(rectangle(30, 30, 50, 45), 0.5); // in feet 98 to 164: beyond the numbers of the raster
  site.units = "ft";
  site.unit = 0.3048;
  site.ground.raster = "metres.asc";
  site.ground.raster_unit = 1;
  const Read result = read(site);
  CHECK_THAT(result.z[0], WithinAbs(5 + 0.1 * 30.25, 1e-9));
  bool said = false;
  for (const std::string& warning : result.warnings)
    said = said || warning.find("in the unit of its own system") != std::string::npos;
  CHECK(said);
}

TEST_CASE("a grid coarser than the raster takes the mean of what lies in a cell", "[raster_ground]") {
  write_grid("fine.asc", 40, 40, 0.25, [](int i, int j) { return (i + j) % 2 ? 1.0 : 3.0; });
  // Within the raster: over its outermost half cell nothing is known beside the outermost centres.
  site::Site site = plain_site(rectangle(1, 1, 9, 9), 1);
  site.ground.raster = "fine.asc";
  for (double z : read(site).z) CHECK_THAT(z, WithinAbs(2, 1e-12));
}

TEST_CASE("the mean over cells that hold no whole number of the raster is exact on a plane",
          "[raster_ground]") {
  for (const double raster_cell : {0.3, 0.2, 0.13, 0.25}) {
    const int n = static_cast<int>(std::ceil(12 / raster_cell));
    write_grid("plane.asc", n, n, raster_cell, [&](int i, int j) {
      return 20 + 0.05 * (i + 0.5) * raster_cell - 0.03 * (j + 0.5) * raster_cell;
    });
    site::Site site = plain_site(rectangle(1, 1, 11, 11), 0.5);
    site.ground.raster = "plane.asc";
    const Read result = read(site);
    for (std::size_t c = 0; c < result.z.size(); ++c) {
      const double x = result.grid.x(result.grid.column(c)), y = result.grid.y(result.grid.row(c));
      CHECK_THAT(result.z[c], WithinAbs(20 + 0.05 * x - 0.03 * y, 1e-9));
    }
  }
}

TEST_CASE("a mound keeps its volume where the grid is coarser", "[raster_ground]") {
  write_grid("mound.asc", 400, 400, 0.03, [](int i, int j) {
    const double x = (i + 0.5) * 0.03 - 6, y = (j + 0.5) * 0.03 - 6;
    return 0.4 * std::exp(-(x * x + y * y));
  });
  site::Site site = plain_site(rectangle(1, 1, 11, 11), 0.4);
  site.ground.raster = "mound.asc";
  double volume = 0;
  for (double z : read(site).z) volume += z * 0.4 * 0.4;
  CHECK_THAT(volume, WithinRel(0.4 * 3.14159265358979, 1e-4));
}

TEST_CASE("holes are interpolated across, counted, and never a height of their own", "[raster_ground]") {
  auto height = [](int i, int j) {
    const bool hole = i >= 8 && i < 20 && j >= 5 && j < 15;
    return hole ? std::nan("") : 20 + 0.03 * i;
  };
  write_grid("holes.asc", 40, 30, 0.5, height);
  site::Site site = plain_site(rectangle(0, 0, 20, 15), 0.5);
  site.ground.raster = "holes.asc";
  const Read result = read(site);
  for (std::size_t c = 0; c < result.z.size(); ++c)
    CHECK_THAT(result.z[c], WithinAbs(20 + 0.03 * result.grid.column(c), 1e-6));
  REQUIRE(assumed(result, "ground.raster holes"));
  for (const site::Assumption& a : result.assumptions)
    if (a.key == "ground.raster holes") CHECK_THAT(a.value, ContainsSubstring("120 cells (30 m2)"));
  CHECK(result.warnings.empty());
}

TEST_CASE("what a raster shows to be doubtful is said", "[raster_ground]") {
  write_grid("filler.asc", 40, 30, 0.5,
             [](int i, int j) { return i == 20 && j == 9 ? 0 : 20 + 0.03 * i + 0.017 * j; });
  site::Site site = plain_site(rectangle(0, 0, 20, 15), 0.5);
  site.ground.raster = "filler.asc";
  const Read result = read(site);
  REQUIRE(result.warnings.size() == 1);
  CHECK_THAT(result.warnings[0], ContainsSubstring("1 cell stands at 0 m, 20 m below all others"));
}

TEST_CASE("a raster with nothing over the yard is refused", "[raster_ground]") {
  write_grid("nothing.asc", 40, 30, 0.5, [](int, int) { return std::nan(""); });
  site::Site site = plain_site(rectangle(0, 0, 20, 15), 0.5);
  site.ground.raster = "nothing.asc";
  CHECK_THAT(problem_of([&] { read(site); }), ContainsSubstring("no data over the whole yard"));
  site.outline = rectangle(1000, 1000, 1020, 1015);
  CHECK_THAT(problem_of([&] { read(site); }), ContainsSubstring("misses the yard"));
  site.ground.raster = "absent.asc";
  CHECK_THAT(problem_of([&] { read(site); }), ContainsSubstring("no such file"));
}
#endif
