// The catalogue: covers, soils, pipes, stone, fabric, caps and plants, each row with its source and range.
#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include <lowspot/catalog/practice_limit.hpp>

namespace lowspot::catalog {

// A figure with the range literature gives for it; low and high are equal to it where none is known.
struct Figure {
  double value = 0;
  double low = 0;
  double high = 0;
};

struct Cover {
  std::string name; // as a site file says it: "concrete", "lawn", "mulched bed", ...
  Figure manning_n;
  double manning_n_deep = 0;
  double vegetation_height = 0; // m
  Figure depression_storage;    // m
  Figure interception;          // m
  double crop_coefficient = 0;
  bool impervious = false;
  RowSource from;
  double soil_evaporation = 1; // share of what wet bare soil loses that the cover lets through
};

struct SoilTexture {
  std::string name; // "silt loam"
  Figure porosity;
  Figure effective_porosity;
  Figure wetting_front_suction;      // m
  Figure conductivity;               // m/s, Green-Ampt
  double saturated_conductivity = 0; // m/s, laboratory
  double field_capacity = 0, wilting_point = 0, residual = 0;
  double pore_size_index = 0;
  double bubbling_pressure = 0; // m
  Figure drainable_porosity;
  RowSource from;
};

struct Pipe {
  std::string name;            // "3 in corrugated", to which ", slotted" or ", solid" is added in a site file
  double nominal = 0;          // m
  double inside_diameter = 0;  // m
  double outside_diameter = 0; // m
  Figure manning_n;
  double slot_area = 0; // m2 per m when slotted; 0 where this kind is made solid only
  RowSource from;
};

struct Stone {
  std::string name;        // "No. 57, rounded, washed"
  double d10 = 0, d50 = 0; // m
  Figure porosity;
  Figure conductivity;      // m/s
  double forchheimer_b = 0; // s2/m2
  double bulk_density = 0;  // kg/m3
  RowSource from;
};

struct Fabric {
  std::string name;        // "nonwoven 6 oz"
  Figure permittivity;     // 1/s
  double opening_size = 0; // m
  RowSource from;
};

struct Cap {
  std::string name;    // "open stone", "sod", "mulch over stone", "grate"
  Figure conductivity; // m/s; 0 for a cap made of the yard's own topsoil ("sod")
  double depth = 0;    // m
  RowSource from;
};

struct Plant {
  std::string name;
  Figure root_depth; // m
  double depletion_fraction = 0;
  double crop_coefficient = 0;
  Figure hours_to_damage; // s of saturation, low to high
  std::string wet_feet;   // "low", "moderate", "high" tolerance
  RowSource from;
};

struct ClimateMonth {
  std::string month;       // "May"
  double reference_et = 0; // m/s
  double daily_high = 0;   // mean of the days' highest temperatures [deg C]
  RowSource from;
};

struct Catalog {
  std::filesystem::path folder;
  std::vector<Cover> covers;
  std::vector<SoilTexture> soils;
  std::vector<Pipe> pipes;
  std::vector<Stone> stones;
  std::vector<Fabric> fabrics;
  std::vector<Cap> caps;
  std::vector<Plant> plants;
  std::vector<ClimateMonth> climate;
  std::vector<PracticeLimit> limits;
};

// Reads the tables in `folder` (covers.csv, soils.csv, ...). Throws InputError for a damaged table.
Catalog read_catalog(const std::filesystem::path& folder);

} // namespace lowspot::catalog
