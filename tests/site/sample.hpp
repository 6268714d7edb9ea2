// A small catalogue and yards written to a scratch folder, for the tests of the site reader.
#pragma once
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <string>

#include <lowspot/base/error.hpp>
#include <lowspot/site/read_site.hpp>
#include <lowspot/site/table_reader.hpp>

#include "catch.hpp"

namespace sample {
using namespace lowspot;

inline catalog::Figure figure(double value) {
  return {value, value, value};
}

inline catalog::Catalog small_catalog() {
  catalog::Catalog c;
  const catalog::RowSource from{"made up for the tests", "default"};
  c.covers = {{"concrete", figure(0.011), 0.013, 0, figure(0.001), figure(0.0002), 0, true, from},
              {"lawn", figure(0.24), 0.04, 0.08, figure(0.004), figure(0.0015), 0.95, false, from},
              {"mulched bed", figure(0.2), 0.06, 0.05, figure(0.006), figure(0.0025), 0.6, false, from}};
  catalog::SoilTexture silt;
  silt.name = "silt loam";
  silt.porosity = {0.5, 0.42, 0.58};
  silt.wetting_front_suction = figure(0.17);
  silt.conductivity = {1.8e-6, 2e-7, 1e-5};
  silt.field_capacity = 0.33, silt.wilting_point = 0.13, silt.residual = 0.015;
  silt.pore_size_index = 0.21;
  silt.drainable_porosity = {0.06, 0.04, 0.12};
  catalog::SoilTexture sand = silt;
  sand.name = "sand";
  sand.porosity = figure(0.44);
  sand.conductivity = figure(3e-5);
  c.soils = {silt, sand};
  c.pipes = {{"3 in corrugated", 0.0762, 0.0762, 0.091, figure(0.015), 0.002, from},
             {"4 in corrugated", 0.1016, 0.1016, 0.117, figure(0.015), 0.002, from},
             {"4 in sewer", 0.1016, 0.1006, 0.107, figure(0.010), 0, from}};
  c.stones = {{"No. 57, rounded, washed", 0.0054, 0.0137, figure(0.38), figure(0.08), 208, 1643, from}};
  c.fabrics = {{"nonwoven 6 oz", figure(1.5), 0.0002, from}};
  c.caps = {{"open stone", figure(0), 0, from},
            {"sod", figure(0), 0.1, from},
            {"mulch over stone", figure(1e-3), 0.05, from}};
  c.plants = {{"shrubs", figure(0.45), 0.5, 0.6, {172800, 172800, 604800}, "moderate", from}};
  c.climate = {{"May", 4.8e-8, 23, from}, {"July", 5.5e-8, 30, from}};
  return c;
}

class Folder {
public:
  Folder() {
    static int count = 0;
    path = std::filesystem::temp_directory_path() /
           ("lowspot-site-" + std::to_string(::getpid()) + "-" + std::to_string(++count));
    std::filesystem::create_directories(path);
  }
  ~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path, ignored);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  void write(const std::string& name, const std::string& content) const {
    std::ofstream(path / name, std::ios::binary) << content;
  }
  std::filesystem::path path;
};

// A yard of 60 by 40 ft with its levels; what is given is added below.
inline std::string yard(const std::string& more, const std::string& units = "ft") {
  return "[site]\nname = \"t\"\nunits = \"" + units +
         "\"\noutline = [[0, 0], [60, 0], [60, 40], [0, 40]]\n[ground]\nlevels = \"levels.csv\"\n" + more;
}

inline site::Site read(const std::string& text, const Folder& folder) {
  folder.write("levels.csv", "x,y,elevation\n0,0,100\n60,0,99\n60,40,100\n0,40,101\n");
  folder.write("site.toml", text);
  return site::read_site(folder.path, small_catalog());
}

inline site::Site read(const std::string& text) {
  const Folder folder;
  return read(text, folder);
}

// The error that reading ends in; fails the test when there is none.
inline InputError error_of(const std::string& text, const Folder& folder) {
  try {
    read(text, folder);
  } catch (const InputError& error) {
    return error;
  }
  FAIL("this was read without an error:\n" << text);
  return InputError({}, "", "", "");
}

inline InputError error_of(const std::string& text) {
  const Folder folder;
  return error_of(text, folder);
}

inline bool warned(const site::Site& site, const std::string& piece) {
  for (const std::string& warning : site.warnings)
    if (warning.find(piece) != std::string::npos) return true;
  return false;
}

// A table on its own, in feet, with its reader.
struct Fixture {
  explicit Fixture(const std::string& text) : table(toml::parse(text)) {}
  Fixture(const Fixture&) = delete;
  Fixture& operator=(const Fixture&) = delete;
  toml::table table;
  site::Site site;
  catalog::Catalog rows = small_catalog();
  site::Context context{"site.toml", rows, site};
  site::TableReader reader{table, "", context};
};

// The value listed for a default, or "not listed".
inline std::string assumed(const site::Site& site, const std::string& key) {
  for (const site::Assumption& assumption : site.assumptions)
    if (assumption.key == key) return assumption.tag == "default" ? assumption.value : "wrong tag";
  return "not listed";
}

} // namespace sample
