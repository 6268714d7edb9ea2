#include <lowspot/report/write_gis.hpp>

#include <cmath>
#include <limits>

#include <lowspot/gis/shapes.hpp>
#include <lowspot/gis/write_raster.hpp>
#include <lowspot/report/map_works.hpp>
#include <lowspot/results/output_folder.hpp>
#include <lowspot/results/slug.hpp>

namespace lowspot::report {
namespace {

namespace fs = std::filesystem;
using gis::Shape;
using gis::ShapeKind;
using results::DesignRecord;

struct Maps {
  const site::Site& site;
  const results::Comparison& all;
  fs::path folder;

  std::vector<Point> in_site_units(std::vector<Point> points) const {
    for (Point& point : points) point = {point.x / site.unit, point.y / site.unit};
    return points;
  }

  // Values of one a cell; those off the yard are left empty.
  template <class Values>
  void raster(const std::string& file, const Values& values, const std::string& name,
              const std::string& unit) const {
    if (values.size() != all.grid.cells()) return;
    gis::RasterMap map{all.grid.nx,
                       all.grid.ny,
                       all.grid.x0 / site.unit,
                       all.grid.y0 / site.unit,
                       all.grid.cell / site.unit,
                       std::vector<double>(values.begin(), values.end()),
                       name,
                       unit};
    for (std::size_t cell = 0; cell < map.values.size(); ++cell)
      if (!all.active[cell]) map.values[cell] = std::numeric_limits<double>::quiet_NaN();
    gis::write_geotiff(folder / (file + ".tif"), map, site.crs);
  }
  void shapes(const std::string& file, const std::vector<Shape>& list) const {
    gis::write_geojson(folder / (file + ".geojson"), list, site.crs);
  }
};

void write_rasters(const Maps& maps) {
  maps.raster("ground_elevation", maps.all.elevation, "elevation of the ground", "m");
  std::vector<std::string> names;
  for (const DesignRecord& design : maps.all.designs) names.push_back(design.name);
  const std::vector<std::string> safe = results::slugs(names);
  for (std::size_t k = 0; k < names.size(); ++k) {
    const DesignRecord& design = maps.all.designs[k];
    maps.raster("standing_hours_" + safe[k], design.standing_hours, "hours water stands after the rain", "h");
    maps.raster("max_depth_" + safe[k], design.max_depth, "greatest depth of water on the ground", "m");
    maps.raster("soggy_hours_" + safe[k], design.soggy_hours, "hours the ground is soggy, rain included",
                "h");
    maps.raster("perched_max_" + safe[k], design.perched_max, "most water in the soil over the tight layer",
                "m");
    std::vector<std::string> sources;
    for (const results::SourceName& source : design.shares.sources) sources.push_back(source.name);
    const std::vector<std::string> safe_sources = results::slugs(sources);
    for (std::size_t s = 0; s < design.shares.when_deepest.size() && s < sources.size(); ++s)
      maps.raster("share_" + safe_sources[s] + "_" + safe[k], design.shares.when_deepest[s],
                  "share of " + sources[s] + " in the deepest water", "1");
  }
}

void write_ground_shapes(const Maps& maps) {
  std::vector<Shape> areas, buildings, low_spots;
  for (std::size_t a = 0; a < maps.site.areas.size(); ++a) {
    const site::Area& area = maps.site.areas[a];
    Shape shape{
        ShapeKind::area, maps.in_site_units(area.outline), {{"name", area.name}, {"kind", area.kind}}};
    const bool known = !maps.all.designs.empty() && a < maps.all.designs[0].areas.size();
    shape.properties.push_back(
        {"as_is_hours", known ? maps.all.designs[0].areas[a].standing_hours_after_rain : std::nan("")});
    areas.push_back(std::move(shape));
  }
  for (const site::Building& building : maps.site.buildings)
    buildings.push_back({ShapeKind::area, maps.in_site_units(building.outline), {{"name", building.name}}});
  for (const terrain::LowSpot& spot : maps.all.low_spots)
    low_spots.push_back({ShapeKind::point,
                         maps.in_site_units({spot.at}),
                         {{"id", static_cast<double>(spot.id)},
                          {"depth_m", spot.depth},
                          {"area_m2", spot.area},
                          {"volume_m3", spot.volume},
                          {"catchment_m2", spot.catchment}}});
  maps.shapes("areas", areas);
  maps.shapes("buildings", buildings);
  maps.shapes("low_spots", low_spots);
}

void write_works(const Maps& maps) {
  std::vector<Shape> runs, outlets;
  for (const DesignRecord& record : maps.all.designs) {
    const site::Design* design = works_of(maps.site, record);
    if (design == nullptr) continue;
    for (const site::Run& run : design->runs)
      runs.push_back({ShapeKind::line,
                      maps.in_site_units(run.path),
                      {{"design", design->name},
                       {"name", run.name},
                       {"pipe", run.pipe.name},
                       {"fall", fall_of(run, record)}}});
    for (const site::Outlet& outlet : design->outlets)
      outlets.push_back({ShapeKind::point,
                         maps.in_site_units({outlet.at}),
                         {{"design", design->name}, {"name", outlet.name}, {"kind", outlet.kind}}});
  }
  maps.shapes("runs", runs);
  maps.shapes("outlets", outlets);
}

} // namespace

void remove_gis(const fs::path& folder) {
  std::error_code ignored;
  std::vector<fs::path> old;
  if (fs::is_directory(folder / "gis", ignored))
    for (const fs::directory_entry& entry : fs::directory_iterator(folder / "gis"))
      if (entry.path().extension() == ".tif" || entry.path().extension() == ".geojson")
        old.push_back(entry.path());
  for (const fs::path& path : old) fs::remove(path, ignored);
}

void write_gis(const site::Site& site, const results::Comparison& comparison, const fs::path& folder) {
  const Maps maps{site, comparison, folder / "gis"};
  remove_gis(folder);
  results::prepare_output_folder(maps.folder, comparison.site_name);
  write_rasters(maps);
  write_ground_shapes(maps);
  write_works(maps);
}

} // namespace lowspot::report
