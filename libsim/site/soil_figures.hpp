// The figures of a topsoil: what the file gives, the rest from its texture, and what follows from both.
#pragma once
#include <lowspot/site/table_reader.hpp>

namespace lowspot::site {

// Reads `depth` of `topsoil`.
void read_topsoil_depth(const TableReader& topsoil, Soil& soil);
// Reads the rest: conductivity (or what a hole test measured), moisture contents, suction. A texture is
// needed only for what is not given.
void read_topsoil(const TableReader& topsoil, Soil& soil, const std::optional<Band>& measured);
// Warns about a conductivity outside what ground has: above 50 in/hr or below 1e-4 in/hr.
void warn_of_conductivity(const TableReader& table, const std::string& key, const Band& conductivity);

} // namespace lowspot::site
