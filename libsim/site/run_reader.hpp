// [[design.run]]: one length of pipe, head to foot.
#pragma once
#include <lowspot/site/table_reader.hpp>

namespace lowspot::site {

// The depth at the head is left open where another run may arrive there; connect_design() settles it.
Run read_run(const TableReader& table, std::size_t number);
// Likely conductivity of the topsoil at a place [m/s]: of the area that lies there, else the first soil.
double topsoil_conductivity_at(const Site& site, const Point& place);

} // namespace lowspot::site
