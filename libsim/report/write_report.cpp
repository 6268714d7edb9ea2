#include <lowspot/report/write_report.hpp>

#include <stdexcept>

#include <lowspot/report/diagnosis_map.hpp>
#include <lowspot/report/report_page.hpp>
#include <lowspot/results/output_folder.hpp>

namespace lowspot::report {
namespace {

void check(const results::Comparison& comparison) {
  const std::size_t cells = comparison.grid.cells();
  if (cells == 0 || comparison.elevation.size() != cells || comparison.active.size() != cells ||
      (!comparison.cover.empty() && comparison.cover.size() != cells))
    throw std::invalid_argument("maps of the yard that do not fit its grid");
  for (const auto& design : comparison.designs)
    for (const Field* map :
         {&design.max_depth, &design.standing_hours, &design.soggy_hours, &design.perched_max})
      if (!map->empty() && map->size() != cells)
        throw std::invalid_argument("maps of a design that do not fit the grid");
}

} // namespace

void write_report(const site::Site& site, const results::Comparison& comparison,
                  const std::filesystem::path& folder, bool overwrite, const study::Diagnosis* diagnosis) {
  check(comparison);
  results::prepare_output_folder(folder, comparison.site_name, overwrite);
  const MapScene scene{site, comparison, units_for(comparison.units)};
  MapPictures pictures = draw_pictures(scene);
  write_maps(scene, pictures, folder);
  if (diagnosis != nullptr) {
    const DiagnosisScene low_spots{site, *diagnosis, scene.units};
    pictures.diagnosis = diagnosis_map_png(low_spots);
    write_diagnosis_map(low_spots, pictures.diagnosis, folder / "maps");
  }
  results::write_whole_file(folder / "report.html", report_html({scene, pictures, diagnosis}));
}

} // namespace lowspot::report
