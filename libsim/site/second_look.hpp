// What no line of the site file says wrongly, but several say together.
#pragma once
#include <lowspot/site/table_reader.hpp>

namespace lowspot::site {

// Warns of a yard that no water can leave, areas that lie wholly under others, areas narrower than a cell,
// and designs without works or without a way in for the water. Everything else of the site is read already.
void second_look(const TableReader& root, const Site& site);

// Warns where the size of the yard speaks for other units than the file says; refuses one in degrees.
void second_look_at_size(const TableReader& table, const Site& site);

} // namespace lowspot::site
