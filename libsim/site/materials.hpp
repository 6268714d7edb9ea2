// Pipe, stone, fabric and cap of a run: a name of the catalogue, or a table of own figures.
#pragma once
#include <lowspot/site/table_reader.hpp>

namespace lowspot::site {

// "3 in corrugated, slotted": a row of the pipe table and whether it takes water in. Without the last word it
// is slotted in a trench with stone and solid elsewhere, and listed so.
PipeChoice read_pipe(const TableReader& run, bool in_trench);
StoneChoice read_stone(const TableReader& run);
FabricChoice read_fabric(const TableReader& run);
// `topsoil` is the conductivity of the ground beside the trench [m/s], for a cap made of it; `stone` that of
// the stone, for a trench open to the top.
CapChoice read_cap(const TableReader& run, double topsoil, double stone);

} // namespace lowspot::site
