// `combine` and `after` of [[design]]: the works that a design takes over from designs above it.
#pragma once
#include <lowspot/site/table_reader.hpp>

namespace lowspot::site {

// A design with those works, and `after`, `made_of` and `standing` filled; without works where the table has
// neither key. Throws InputError for designs that are not above this one and works that clash.
Design read_standing(const TableReader& table);

// The name it is written by, or of what it is made of, or its number. `design` is what read_standing() gave.
std::string own_name_of(const TableReader& table, const Design& design, std::size_t number);

} // namespace lowspot::site
