// Works drawn where a building stands.
#pragma once
#include <lowspot/site/table_reader.hpp>

namespace lowspot::site {

// Throws InputError when a pit, outlet or grate lies inside a building by more than the width of its wall.
void refuse_under_building(const TableReader& table, const std::string& key, const Point& place);
// The same for something dug over an area, when more than a sliver of it lies inside.
void refuse_under_building(const TableReader& table, const std::string& key, const Polygon& outline);
// Warns when a line runs under a building. Its first and last three feet may lie inside the walls, as a
// downspout's foot under the eaves does.
void warn_under_building(const TableReader& table, const std::string& key, const Polyline& line);

} // namespace lowspot::site
