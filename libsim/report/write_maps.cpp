#include <lowspot/report/write_maps.hpp>

#include <algorithm>

#include <lowspot/report/draw_map.hpp>
#include <lowspot/report/shares_map.hpp>
#include <lowspot/results/output_folder.hpp>

namespace lowspot::report {
namespace {

constexpr double pixels_per_point = 2;
const std::vector<MapQuantity> both = {MapQuantity::standing_hours, MapQuantity::max_depth};
const std::vector<MapQuantity> in_the_ground = {MapQuantity::soggy_hours, MapQuantity::perched_max};

std::string picture(const MapScene& scene, const std::vector<MapQuantity>& rows) {
  return png(map_sheet_size(scene, rows), pixels_per_point, true,
             [&](cairo_t* context) { draw_map_sheet(context, scene, rows); });
}

// The first design whose sources were followed; null: none.
const results::DesignRecord* followed(const MapScene& scene) {
  const auto& designs = scene.comparison.designs;
  const auto found = std::find_if(designs.begin(), designs.end(), [](const results::DesignRecord& design) {
    return !design.shares.when_deepest.empty();
  });
  return found == designs.end() ? nullptr : &*found;
}

// Written only where sources were followed.
constexpr const char* of_sources[] = {"sources.png", "sources.pdf"};

std::string page(const MapScene& scene, const std::vector<MapQuantity>& rows, const std::string& title) {
  return pdf_page(map_sheet_size(scene, rows), scene.units.metric, title + scene.comparison.site_name,
                  [&](cairo_t* context) { draw_map_sheet(context, scene, rows); });
}

} // namespace

std::string sources_picture(const MapScene& scene) {
  const results::DesignRecord* record = followed(scene);
  if (!record) return "";
  return png(shares_map_size(scene, *record), pixels_per_point, true,
             [&](cairo_t* context) { draw_shares_map(context, scene, *record); });
}

MapPictures draw_pictures(const MapScene& scene) {
  return {picture(scene, both),
          picture(scene, {MapQuantity::standing_hours}),
          picture(scene, {MapQuantity::max_depth}),
          sources_picture(scene),
          "",
          picture(scene, in_the_ground)};
}

void remove_source_maps(const std::filesystem::path& folder) {
  std::error_code ignored; // what is not there need not go
  for (const char* name : of_sources) std::filesystem::remove(folder / "maps" / name, ignored);
}

void write_maps(const MapScene& scene, const MapPictures& pictures, const std::filesystem::path& folder) {
  const std::filesystem::path maps = folder / "maps";
  results::prepare_output_folder(maps, scene.comparison.site_name);
  results::write_whole_file(maps / "before-after.png", pictures.before_after);
  results::write_whole_file(maps / "standing-hours.png", pictures.standing_hours);
  results::write_whole_file(maps / "max-depth.png", pictures.max_depth);
  results::write_whole_file(maps / "perched.png", pictures.perched);
  results::write_whole_file(maps / "before-after.pdf",
                            page(scene, both, "Standing water before and after: "));
  results::write_whole_file(maps / "perched.pdf",
                            page(scene, in_the_ground, "Water in the ground before and after: "));
  if (pictures.sources.empty()) {
    remove_source_maps(folder);
    return;
  }
  results::write_whole_file(maps / "sources.png", pictures.sources);
  const results::DesignRecord& record = *followed(scene);
  results::write_whole_file(maps / "sources.pdf",
                            pdf_page(shares_map_size(scene, record), scene.units.metric,
                                     "Where the water comes from: " + scene.comparison.site_name,
                                     [&](cairo_t* context) { draw_shares_map(context, scene, record); }));
}

} // namespace lowspot::report
