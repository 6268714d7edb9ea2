// [ground]: what the shape of the ground is taken from.
#include <filesystem>

#include <lowspot/base/text.hpp>
#include <lowspot/site/files.hpp>
#include <lowspot/site/readers.hpp>

namespace lowspot::site {
namespace {
// Metres in one vertical unit.
double vertical_unit(const TableReader& table, const std::string& key) {
  const std::string unit = table.word(key, {"ft", "in", "m", "cm", "mm", "us survey ft"});
  if (unit == "ft") return 0.3048;
  if (unit == "in") return 0.0254;
  if (unit == "cm") return 0.01;
  if (unit == "mm") return 0.001;
  return unit == "m" ? 1.0 : 1200.0 / 3937.0;
}
} // namespace

void read_ground(const TableReader& root, Context& context) {
  const std::string advice = "Add [ground] with levels = \"levels.csv\", a table of x,y,elevation.";
  if (!root.has("ground"))
    root.fail("ground", "no [ground] table", "[ground] with levels, a raster or breaklines", advice);
  const TableReader table = *root.table("ground");
  GroundInput& ground = context.site.ground;
  if (table.has("raster")) {
    ground.raster = file_named(table, "raster");
    ground.raster_line = table.where("raster").line;
  }
  if (table.has("levels")) {
    ground.levels = file_named(table, "levels");
    ground.levels_line = table.where("levels").line;
  }
  if (table.has("raster_units")) ground.raster_unit = vertical_unit(table, "raster_units");
  if (table.has("levels_units")) ground.levels_unit = vertical_unit(table, "levels_units");
  if (table.has("breaklines")) ground.breaklines = table.breaklines("breaklines");
  table.done();
  if (ground.raster.empty() && ground.levels.empty() && ground.breaklines.empty())
    table.fail("", "a [ground] table without ground", "levels, a raster or breaklines", advice);
}

} // namespace lowspot::site
