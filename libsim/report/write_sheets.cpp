#include <lowspot/report/write_sheets.hpp>

#include <stdexcept>

#include <lowspot/report/crew_sheet.hpp>
#include <lowspot/report/cut_sheet_page.hpp>
#include <lowspot/report/map_works.hpp>
#include <lowspot/report/owner_sheet.hpp>
#include <lowspot/report/permit_sheet.hpp>
#include <lowspot/report/takeoff_table.hpp>
#include <lowspot/results/output_folder.hpp>
#include <lowspot/study/limits_not_kept.hpp>

namespace lowspot::report {
namespace {

namespace fs = std::filesystem;
constexpr const char* of_the_works[] = {"crew.html", "cutsheet.html", "cutsheet.csv", "takeoff.html",
                                        "takeoff.csv"};

void write_works(const SheetScene& scene, const fs::path& folder) {
  const site::Site& site = scene.site();
  const std::string& version = scene.comparison().version;
  const double spacing = scene.units().metric ? 1.5 : 5 * 0.3048;
  const job::CutSheet full = job::make_cut_sheet(site, *scene.design, scene.ground, spacing);
  CutSheetPage page{site, full, version,
                    scene.units().metric ? job::RodUnit::millimetres : job::RodUnit::eighths};
  page.works = work_levels(site, *scene.design, scene.ground, full);
  page.not_kept = study::limits_not_kept(scene.comparison(), *scene.built);
  results::write_whole_file(folder / "cutsheet.html", cut_sheet_html(page));
  results::write_whole_file(folder / "cutsheet.csv", cut_sheet_csv(page));
  results::write_whole_file(folder / "takeoff.html", takeoff_html(*scene.takeoff, site, version));
  results::write_whole_file(folder / "takeoff.csv", takeoff_csv(*scene.takeoff, site));
  results::write_whole_file(folder / "crew.html", crew_sheet_html(scene));
}

} // namespace

void remove_works(const fs::path& folder) {
  std::error_code ignored; // what is not there need not go
  for (const char* name : of_the_works) fs::remove(folder / name, ignored);
}

void write_sheets(const site::Site& site, const terrain::Ground& ground,
                  const results::Comparison& comparison, const fs::path& folder) {
  if (comparison.designs.empty()) throw std::invalid_argument("a comparison without the yard as it is");
  SheetScene scene{{site, comparison, units_for(comparison.units)}, ground, comparison.designs.front()};
  const std::size_t place = sheet_design(comparison);
  job::CutSheet cut;
  job::Takeoff takeoff;
  if (place > 0) {
    scene.built = &comparison.designs[place];
    scene.design = works_of(site, *scene.built);
  }
  if (scene.design != nullptr) {
    cut = crew_cut_sheet(site, *scene.design, ground);
    takeoff = job::take_off(site, *scene.design, ground);
    scene.cut = &cut;
    scene.takeoff = &takeoff;
    write_works(scene, folder);
  } else {
    scene.built = nullptr;
    remove_works(folder);
  }
  results::write_whole_file(folder / "homeowner.html", owner_sheet_html(scene));
  results::write_whole_file(folder / "permit.html", permit_sheet_html(scene));
}

} // namespace lowspot::report
