#include <lowspot/site/outline_file.hpp>

#include <lowspot/base/text.hpp>
#include <lowspot/gis/shapes.hpp>

namespace lowspot::site {
namespace {

// Where the file's name ends and the outline's begins: after a known ending, never inside a path.
std::size_t end_of_file_name(const std::string& text) {
  const std::string low = lower(text);
  for (const char* ending : {".geojson", ".json", ".dxf"})
    for (std::size_t at = low.find(ending); at != std::string::npos; at = low.find(ending, at + 1)) {
      const std::size_t end = at + std::string(ending).size();
      if (end == low.size() || low[end] == ':') return end;
    }
  return std::string::npos;
}

} // namespace

Polygon outline_from_file(const TableReader& table, const std::string& key) {
  const std::string text = table.text(key);
  const std::size_t end = end_of_file_name(text);
  if (end == std::string::npos)
    table.fail(key, "\"" + text + "\"", "corners, or a file: \"patio.geojson\", \"plan.dxf:PATIO\"",
               "Write the corners as [[x, y], ...], or name a GeoJSON file or a DXF drawing.");
  const Site& site = table.context().site;
  const std::string name = end < text.size() ? trim(text.substr(end + 1)) : "";
  Polygon outline;
  try {
    outline = gis::read_outline(site.folder / text.substr(0, end), name, site.crs, site.unit);
  } catch (const InputError& error) {
    // The line is that of the site file: which drawing, and where in it, is told with what was found.
    const std::string at = error.where.line > 0 ? ", line " + std::to_string(error.where.line) : "";
    table.fail(key, error.found + " (in " + text.substr(0, end) + at + ")", error.expected, error.mend);
  }
  for (Point& corner : outline) corner = {corner.x * site.unit, corner.y * site.unit};
  return outline;
}

} // namespace lowspot::site
