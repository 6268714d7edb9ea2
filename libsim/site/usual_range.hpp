// What figures usually are: one that can be computed but can hardly be meant is told, with what it would do.
#pragma once
#include <limits>
#include <string>

#include <lowspot/base/quantity.hpp>
#include <lowspot/site/table_reader.hpp>

namespace lowspot::site {

// The figures of a kind, in SI, and what one beyond them does to the answer (a clause behind "so").
struct UsualRange {
  Dimension dimension;                                   // in whose units it is told
  double least = 0;                                      // below it a figure is told; 0: none is too small
  const char* too_small = "";                            // what too small a figure does
  double most = std::numeric_limits<double>::infinity(); // above it a figure is told
  const char* too_large = "";                            // what too large a figure does
};

// Warns at the key if the value lies outside of the range.
void warn_outside(const TableReader& table, const std::string& key, double value, const UsualRange& range);

namespace usual {

extern const UsualRange topsoil_depth;       // of what lies over the tight layer
extern const UsualRange crust_thickness;     // of a skin on the topsoil
extern const UsualRange tight_thickness;     // of the tight layer
extern const UsualRange joint_conductivity;  // of the filling between slabs
extern const UsualRange seep_thickness;      // of water over the tight layer upslope
extern const UsualRange wall_height;         // of a wall or curb
extern const UsualRange pipe_diameter;       // of a pipe of own figures
extern const UsualRange pipe_openings;       // of a metre of pipe
extern const UsualRange stone_conductivity;  // of stone of own figures
extern const UsualRange fabric_permittivity; // of fabric of own figures
extern const UsualRange cap_conductivity;    // of a cap of own figures
extern const UsualRange cleanout;            // diameter of its opening
extern const UsualRange well_diameter;       // of a dry well
extern const UsualRange well_depth;          // of a dry well
extern const UsualRange basin_diameter;      // of a pump's basin
extern const UsualRange basin_depth;         // of a pump's basin
extern const UsualRange pump_rate;           // of a pump
extern const UsualRange opening_head;        // of a pop-up
extern const UsualRange weep;                // diameter of the hole of a pop-up
extern const UsualRange grate_side;          // of an inlet
extern const UsualRange inlet_sump;          // of an inlet
extern const UsualRange channel_width;       // of a channel
extern const UsualRange channel_depth;       // of a channel
extern const UsualRange swale_width;         // of the bed of a swale or the top of a berm
extern const UsualRange depth_loosened;      // of tight layer made topsoil
extern const UsualRange front_suction;       // at the wetting front of soil of own figures
extern const UsualRange cap_lift;            // head that lifts the cap of a cleanout
extern const UsualRange channel_capacity;    // of what a channel carries
extern const UsualRange fabric_lap;          // over the top of the stone
extern const UsualRange sod_margin;          // of sod beside a trench
extern const UsualRange pipe_piece;          // length that pipe is sold in
extern const UsualRange truck;               // volume of a load

} // namespace usual
} // namespace lowspot::site
