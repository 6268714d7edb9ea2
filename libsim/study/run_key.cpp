#include <lowspot/study/run_key.hpp>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>

#include <toml++/toml.h>

#include <lowspot/base/limits.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/site/site_text.hpp>
#include <lowspot/study/journal.hpp>

namespace lowspot::study {
namespace {

// Files that any text of the file names, wherever it stands.
void add_files(const toml::node& node, const std::filesystem::path& folder, Fingerprint& print) {
  if (const auto* table = node.as_table()) {
    for (const auto& [key, value] : *table) add_files(value, folder, print);
  } else if (const auto* array = node.as_array()) {
    for (const toml::node& value : *array) add_files(value, folder, print);
  } else if (const auto* text = node.as_string()) {
    std::error_code ignored;
    const std::filesystem::path file = folder / text->get();
    if (text->get().empty() || !std::filesystem::is_regular_file(file, ignored)) return;
    std::ifstream in(file, std::ios::binary);
    const std::string content{std::istreambuf_iterator<char>(in), {}};
    print.add(text->get()).add(content);
  }
}

void add_field(const Field& field, Fingerprint& print) {
  print.add(std::string_view(reinterpret_cast<const char*>(field.data()), field.size() * sizeof(field[0])));
}

void add_points(const std::vector<Point>& points, Fingerprint& print) {
  print.add(static_cast<double>(points.size()));
  for (const Point& point : points) print.add(point.x).add(point.y);
}

void add_points(const std::vector<Point3>& points, Fingerprint& print) {
  print.add(static_cast<double>(points.size()));
  for (const Point3& point : points) print.add(point.x).add(point.y).add(point.z);
}

void add_grate(const site::Grate& grate, Fingerprint& print) {
  print.add(grate.width).add(grate.length).add(grate.open_share).add(grate.debris);
}

void add_run(const site::Run& run, Fingerprint& print) {
  add_points(run.path, print);
  print.add(run.name).add(run.from).add(run.to);
  print.add(run.pipe.diameter).add(run.pipe.outside_diameter).add(run.pipe.manning_n);
  print.add(run.pipe.slot_area).add(run.pipe.discharge_coefficient);
  print.add(run.has_trench ? 1.0 : 0.0).add(run.trench_width).add(run.trench_depth).add(run.bedding);
  for (const double invert : run.inverts) print.add(invert);
  print.add(run.fall).add(run.stone.porosity).add(run.stone.conductivity).add(run.stone.forchheimer_b);
  print.add(run.fabric.permittivity).add(run.fabric.clogging);
  print.add(run.cap.conductivity).add(run.cap.depth);
}

void add_outlet(const site::Outlet& outlet, Fingerprint& print) {
  print.add(outlet.name).add(outlet.kind).add(outlet.at.x).add(outlet.at.y).add(outlet.invert);
  print.add(outlet.level).add(outlet.opening_head).add(outlet.lid).add(outlet.weep);
  for (const double time : outlet.times) print.add(time);
  for (const double level : outlet.levels) print.add(level);
  const site::Well& well = outlet.well;
  print.add(well.plan).add(well.perimeter).add(well.depth).add(well.void_share).add(well.conductivity);
  print.add(outlet.pump_rate).add(outlet.pump_on).add(outlet.pump_off);
  print.add(outlet.fails_from).add(outlet.fails_to);
  if (outlet.discharge) print.add(outlet.discharge->x).add(outlet.discharge->y);
}

void add_ground_works(const site::Design& design, Fingerprint& print) {
  for (const site::Regrade& regrade : design.regrades) {
    print.add(regrade.kind).add(regrade.width).add(regrade.side_slope);
    add_points(regrade.outline, print);
    add_points(regrade.surface, print);
    add_points(regrade.path, print);
  }
  for (const site::Amend& amend : design.amends) {
    print.add(amend.conductivity_factor).add(amend.porosity_added).add(amend.depth_added);
    add_points(amend.outline, print);
  }
  for (const site::Basin& basin : design.basins) {
    print.add(basin.depth).add(basin.overflow).add(basin.side_slope);
    print.add(basin.conductivity_factor).add(basin.porosity_added).add(basin.depth_added);
    add_points(basin.outline, print);
  }
}

} // namespace

std::string study_key(const site::Site& site, const terrain::Ground& ground, const std::string& version) {
  Fingerprint print;
  print.add(version);
  if (!site.file.empty()) {
    toml::table file =
        site::parse_site_text(read_text(site.file, limits::site_file_bytes), site.file.string());
    file.erase("tune");
    std::ostringstream text;
    text << file;
    print.add(text.str());
    add_files(file, site.folder, print);
  }
  const Grid& grid = ground.grid;
  for (const double value : {grid.cell, grid.x0, grid.y0, double(grid.nx), double(grid.ny)}) print.add(value);
  for (const Field* field : {&ground.elevation, &ground.manning_n, &ground.pervious, &ground.interception,
                             &ground.depression_storage, &ground.crest_x, &ground.crest_y})
    add_field(*field, print);
  for (const site::Soil& soil : site.soils) {
    for (const site::Band& band :
         {soil.depth, soil.conductivity, soil.drainable_porosity, soil.tight_conductivity})
      print.add(band.likely);
    print.add(soil.porosity).add(soil.field_capacity).add(soil.wilting_point).add(soil.initial_moisture);
    print.add(soil.wetting_front_suction).add(soil.pore_size_index).add(soil.perched_start);
  }
  return print.text();
}

std::string run_key(const std::string& study, const site::Design* design, double cell,
                    const std::string& method) {
  Fingerprint print;
  print.add(study).add(cell).add(method).add(design ? 1.0 : 0.0);
  if (!design) return print.text();
  for (const site::Run& run : design->runs) add_run(run, print);
  for (const site::Fitting& fitting : design->fittings)
    print.add(fitting.name)
        .add(fitting.at.x)
        .add(fitting.at.y)
        .add(fitting.loss)
        .add(fitting.cleanout)
        .add(fitting.lift);
  for (const site::Outlet& outlet : design->outlets) add_outlet(outlet, print);
  for (const site::Inlet& inlet : design->inlets) {
    print.add(inlet.name).add(inlet.at.x).add(inlet.at.y).add(inlet.depth).add(inlet.sump).add(inlet.pipe);
    print.add(inlet.to);
    add_grate(inlet.grate, print);
  }
  for (const site::Channel& channel : design->channels) {
    add_points(channel.path, print);
    print.add(channel.width).add(channel.depth).add(channel.capacity).add(channel.to);
    add_grate(channel.grate, print);
  }
  add_ground_works(*design, print);
  for (const site::DownspoutChange& change : design->downspouts) print.add(change.downspout).add(change.to);
  return print.text();
}

} // namespace lowspot::study
