// An outline that stands in a drawing instead of the site file.
#pragma once
#include <lowspot/site/table_reader.hpp>

namespace lowspot::site {

// `outline = "patio.geojson"`, `"plan.geojson:patio"` (by its property name) or `"plan.dxf:PATIO"` (by
// layer): corners in metres. Coordinates in the file are in the site's units and system; a GeoJSON file in
// another system is turned into the site's. Throws InputError.
Polygon outline_from_file(const TableReader& table, const std::string& key);

} // namespace lowspot::site
