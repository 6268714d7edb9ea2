// What takes water from the ground into a drain: [[design.inlet]], [[design.channel]]; and
// [[design.fitting]].
#pragma once
#include <lowspot/site/table_reader.hpp>

namespace lowspot::site {

// Readers of one table of a design each; throw InputError with file, line and key.
Fitting read_fitting(const TableReader& table);
Inlet read_inlet(const TableReader& table, std::size_t number);
Channel read_channel(const TableReader& table, std::size_t number);

// Most that a level trough of this width and depth, fed along its length, passes over its free end [m3/s]:
// the depth at its closed end is sqrt(3) times the critical depth at the other (momentum without friction;
// Beij 1934 for level gutters).
double level_gutter_capacity(double width, double depth);

} // namespace lowspot::site
