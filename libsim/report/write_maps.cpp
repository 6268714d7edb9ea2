#include <lowspot/report/write_maps.hpp>

#include <lowspot/report/draw_map.hpp>
#include <lowspot/results/output_folder.hpp>

namespace lowspot::report {
namespace {

constexpr double pixels_per_point = 2;
const std::vector<MapQuantity> both = {MapQuantity::standing_hours, MapQuantity::max_depth};

std::string picture(const MapScene& scene, const std::vector<MapQuantity>& rows) {
  return png(map_sheet_size(scene, rows), pixels_per_point, true,
             [&](cairo_t* context) { draw_map_sheet(context, scene, rows); });
}

} // namespace

MapPictures draw_pictures(const MapScene& scene) {
  return {picture(scene, both), picture(scene, {MapQuantity::standing_hours}),
          picture(scene, {MapQuantity::max_depth})};
}

void write_maps(const MapScene& scene, const MapPictures& pictures, const std::filesystem::path& folder) {
  const std::filesystem::path maps = folder / "maps";
  results::prepare_output_folder(maps, scene.comparison.site_name);
  results::write_whole_file(maps / "before-after.png", pictures.before_after);
  results::write_whole_file(maps / "standing-hours.png", pictures.standing_hours);
  results::write_whole_file(maps / "max-depth.png", pictures.max_depth);
  results::write_whole_file(maps / "before-after.pdf",
                            pdf_page(map_sheet_size(scene, both), scene.units.metric,
                                     "Standing water before and after: " + scene.comparison.site_name,
                                     [&](cairo_t* context) { draw_map_sheet(context, scene, both); }));
}

} // namespace lowspot::report
