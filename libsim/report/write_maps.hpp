// The picture files of a comparison.
#pragma once
#include <filesystem>
#include <string>

#include <lowspot/report/map_panel.hpp>

namespace lowspot::report {

// PNG bytes of the maps that go into the report and the folder.
struct MapPictures {
  std::string before_after;   // standing hours over maximum depth
  std::string standing_hours; // after the rain, all designs
  std::string max_depth;      // all designs
  std::string sources;        // empty unless sources were followed
  std::string diagnosis;      // low spots and outlets; empty when no diagnosis was made
  std::string perched;        // soggy hours over the most water in the soil
};
// All maps of a comparison, on common scales.
MapPictures draw_pictures(const MapScene& scene);
// PNG bytes of the map of sources; empty unless sources were followed.
std::string sources_picture(const MapScene& scene);

// Writes maps/before-after.png and .pdf, maps/standing-hours.png, maps/max-depth.png, maps/perched.png and
// .pdf, and maps/sources.png and .pdf where sources were followed (else those of an earlier run are taken
// away), under `folder`, which must exist. Throws InputError when they cannot be written.
void write_maps(const MapScene& scene, const MapPictures& pictures, const std::filesystem::path& folder);

// Takes away the maps of sources that an earlier run left: they would not go with the results beside them.
void remove_source_maps(const std::filesystem::path& folder);

} // namespace lowspot::report
