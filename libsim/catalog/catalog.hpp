// The catalogue: covers, soils, pipes, stone, fabric, caps and plants, each row with its source and range.
#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include <lowspot/catalog/practice_limit.hpp>

namespace lowspot::catalog {

// A figure with the range literature gives for it; low and high are equal to it where none is known.
struct Figure {
  double value = 0; // in the unit of what it describes
  double low = 0;   // least that literature gives
  double high = 0;  // greatest that literature gives
};

// What lies on the ground.
struct Cover {
  std::string name;             // as a site file says it: "concrete", "lawn", "mulched bed", ...
  Figure manning_n;             // Manning's n of shallow sheet flow [s/m^(1/3)]
  double manning_n_deep = 0;    // the same where water stands twice as high as the vegetation
  double vegetation_height = 0; // m
  Figure depression_storage;    // m
  Figure interception;          // m
  double crop_coefficient = 0;  // evapotranspiration over that of the reference lawn; 0: nothing grows
  bool impervious = false;      // takes no water in
  RowSource from;               // where the figures come from
  double soil_evaporation = 1;  // share of what wet bare soil loses that the cover lets through
};

// A topsoil by its texture; contents are volumes of water in a volume of soil [m3/m3].
struct SoilTexture {
  std::string name;                                           // "silt loam"
  Figure porosity;                                            // content at saturation
  Figure effective_porosity;                                  // porosity less the residual content
  Figure wetting_front_suction;                               // m
  Figure conductivity;                                        // m/s, Green-Ampt
  double saturated_conductivity = 0;                          // m/s, laboratory
  double field_capacity = 0, wilting_point = 0, residual = 0; // contents [m3/m3]
  double pore_size_index = 0;                                 // Brooks-Corey lambda
  double bubbling_pressure = 0;                               // m
  Figure drainable_porosity; // share left free when the perched table falls [m3/m3]
  RowSource from;            // where the figures come from
};

// A kind of pipe in one size.
struct Pipe {
  std::string name;            // "3 in corrugated", to which ", slotted" or ", solid" is added in a site file
  double nominal = 0;          // m
  double inside_diameter = 0;  // m
  double outside_diameter = 0; // m
  Figure manning_n;            // Manning's n when full [s/m^(1/3)]
  double slot_area = 0;        // m2 per m when slotted; 0 where this kind is made solid only
  RowSource from;              // where the figures come from
};

// Stone to fill trenches.
struct Stone {
  std::string name;         // "No. 57, rounded, washed"
  double d10 = 0, d50 = 0;  // m
  Figure porosity;          // share of voids [m3/m3]
  Figure conductivity;      // m/s
  double forchheimer_b = 0; // s2/m2
  double bulk_density = 0;  // kg/m3
  RowSource from;           // where the figures come from
};

// Filter cloth, new.
struct Fabric {
  std::string name;        // "nonwoven 6 oz"
  Figure permittivity;     // 1/s
  double opening_size = 0; // m
  RowSource from;          // where the figures come from
};

// What lies over the stone of a trench.
struct Cap {
  std::string name;    // "open stone", "sod", "mulch over stone", "grate"
  Figure conductivity; // m/s; 0 for a cap made of the yard's own topsoil ("sod")
  double depth = 0;    // m
  RowSource from;      // where the figures come from
};

// What grows in a bed.
struct Plant {
  std::string name;              // "shrubs", "lawn grass", ...
  Figure root_depth;             // m
  double depletion_fraction = 0; // p of FAO-56: share of the available water that roots take without stress
  double crop_coefficient = 0;   // evapotranspiration over that of the reference lawn
  Figure hours_to_damage;        // s of saturation, low to high
  std::string wet_feet;          // "low", "moderate", "high" tolerance
  RowSource from;                // where the figures come from
};

// The air of one month.
struct ClimateMonth {
  std::string month;       // "May"
  double reference_et = 0; // m/s
  double daily_high = 0;   // mean of the days' highest temperatures [deg C]
  RowSource from;          // where the figures come from
};

// All tables of the catalogue, rows in the order of their files.
struct Catalog {
  std::filesystem::path folder;      // where the tables were read
  std::vector<Cover> covers;         // covers.csv
  std::vector<SoilTexture> soils;    // soils.csv
  std::vector<Pipe> pipes;           // pipes.csv
  std::vector<Stone> stones;         // stone.csv
  std::vector<Fabric> fabrics;       // fabric.csv
  std::vector<Cap> caps;             // caps.csv
  std::vector<Plant> plants;         // plants.csv
  std::vector<ClimateMonth> climate; // climate.csv
  std::vector<PracticeLimit> limits; // limits.csv
};

// Reads the tables in `folder` (covers.csv, soils.csv, ...). Throws InputError for a damaged table.
Catalog read_catalog(const std::filesystem::path& folder);

} // namespace lowspot::catalog
