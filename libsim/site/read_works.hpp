// Works on the ground itself: [[design.regrade]], [[design.amend]] and [[design.basin]].
#pragma once
#include <lowspot/site/table_reader.hpp>

namespace lowspot::site {

// Readers of one table of a design each, `number` from 1 for messages; throw InputError with file, line and
// key.
Regrade read_regrade(const TableReader& table, std::size_t number);
Amend read_amend(const TableReader& table, std::size_t number);
Basin read_basin(const TableReader& table, std::size_t number);

} // namespace lowspot::site
