// What lies on the ground: a row of the covers table, own figures, or a row with some figures replaced.
#pragma once
#include <lowspot/site/table_reader.hpp>

namespace lowspot::site {

// Reads kind, manning_n, depression_storage, interception, impervious and the rest into the area.
void read_cover(const TableReader& table, Area& area);
// An area's figures from a row alone.
void set_cover(const catalog::Cover& cover, Area& area);
Plants read_plants(const TableReader& table, const Area& area);

} // namespace lowspot::site
