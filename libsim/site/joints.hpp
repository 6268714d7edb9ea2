// `joints` of a slab: paving that is not quite tight.
#pragma once
#include <lowspot/site/table_reader.hpp>

namespace lowspot::site {

// `joints` = { width, spacing, conductivity }: open joints both ways around slabs of `spacing` side. They
// take in what `conductivity` passes at unit gradient (the base's or the filling's; the topsoil's where none
// is given, listed). Only an impervious area may have them. area.soil must be known.
void read_joints(const TableReader& table, Area& area);

} // namespace lowspot::site
