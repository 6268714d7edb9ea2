// The maps of a comparison for a geographic information system.
#pragma once
#include <filesystem>

#include <lowspot/results/record.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::report {

// Writes gis/ under an existing folder: for each design GeoTIFF of standing hours, maximum depth, soggy hours
// and the most perched water, and of each source's share where sources were followed; and areas.geojson,
// buildings.geojson, runs.geojson, outlets.geojson and low_spots.geojson. Coordinates are those of the site
// file, in its unit, with its system when it names one. Files of an earlier run are removed. Throws
// InputError when they cannot be written, the system is unknown, or this build has no map files.
void write_gis(const site::Site& site, const results::Comparison& comparison,
               const std::filesystem::path& folder);

// Takes away the map files that an earlier run left: they would not go with the results beside them.
void remove_gis(const std::filesystem::path& folder);

} // namespace lowspot::report
