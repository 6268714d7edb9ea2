// [[design.outlet]] and [[design.drywell]].
#pragma once
#include <lowspot/site/table_reader.hpp>

namespace lowspot::site {

// Throws InputError with file, line and key.
Outlet read_outlet(const TableReader& table);
Outlet read_drywell(const TableReader& table); // an outlet of kind "dry well"

} // namespace lowspot::site
