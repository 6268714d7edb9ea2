// How the parts of a design hang together.
#pragma once
#include <vector>

#include <lowspot/site/table_reader.hpp>

namespace lowspot::site {

constexpr double joint_tolerance = 0.15; // m: a run's end this near a fitting or outlet meets it

// The tables are those of the last runs of the design: what it took over from others is joined already.
// Joins heads and feet that meet a fitting or outlet without saying so, gives a foot that meets nothing a
// daylight outlet, and lists both. Gives free heads without inverts the usual depth.
void connect_design(Design& design, const std::vector<TableReader>& run_tables);
// Of the works that follow those of `standing`, whose tables are given (in the order of the design).
// Throws InputError for names that do not exist, ends that do not meet, fittings that lead nowhere, and water
// that would have to run uphill from one part to the next.
void check_design(const Design& design, const Design& standing, const std::vector<TableReader>& run_tables,
                  const std::vector<TableReader>& fitting_tables,
                  const std::vector<TableReader>& outlet_tables);

// The same for what inlets and channels lead to.
void check_intakes(const Design& design, const Design& standing, const std::vector<TableReader>& inlet_tables,
                   const std::vector<TableReader>& channel_tables);

// Fittings and inlets: places at which runs may begin and end.
struct Joint {
  std::string name; // of the fitting or inlet
  Point at;         // m
};
// Where runs, fittings and outlets meet.
std::vector<Joint> joints_of(const Design& design);
// Names that a downspout may lead to, "ground" apart.
std::vector<std::string> takers_of_roof_water(const Design& design);

} // namespace lowspot::site
