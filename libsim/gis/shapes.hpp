// Points, lines and outlines in files of other programs: GeoJSON written, GeoJSON and DXF read.
#pragma once
#include <filesystem>
#include <limits>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include <lowspot/base/geometry.hpp>

namespace lowspot::gis {

// What the coordinates of a shape describe.
enum class ShapeKind { point, line, area };

// Coordinates are plain numbers in the system and unit of the file.
struct Shape {
  ShapeKind kind = ShapeKind::area; // a place, a line or an outline
  std::vector<Point> points;        // of an area: its corners, the first not repeated
  std::vector<std::pair<std::string, std::variant<double, std::string>>>
      properties; // by name: a figure or a text
};

// Writes shapes as GeoJSON, with the system's name when `crs` is given ("EPSG:6549" or well-known text). All
// shapes must have the same properties in the same order. Throws InputError when the file cannot be written,
// the system is unknown, or this build has no map files.
void write_geojson(const std::filesystem::path& path, const std::vector<Shape>& shapes,
                   const std::string& crs);

// The one outline of that name in a GeoJSON file (the `name` property) or on that layer of a DXF drawing (a
// closed line); an empty name takes the only one in the file. Where `crs` is given and a GeoJSON file names
// or implies another system, coordinates are turned into it; where it is not, the file's unit must be that of
// the yard, `unit` metres (NaN: any). Throws InputError when there is none, or more than one, or in another
// unit.
Polygon read_outline(const std::filesystem::path& path, const std::string& name, const std::string& crs,
                     double unit = std::numeric_limits<double>::quiet_NaN());

} // namespace lowspot::gis
