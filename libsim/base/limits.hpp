// How much of anything is read or computed. Each limit is far above what a yard needs; what exceeds it is
// refused before memory is taken, naming the memory it would need. What a computer of 8 GB cannot hold
// although it lies below them is refused by require_memory() (memory.hpp).
#pragma once
#include <cstddef>

namespace lowspot::limits {

// Bytes of a table, which is read whole: ten years of a gauge that writes every minute. What read_text()
// takes by itself.
constexpr std::size_t text_bytes = 200u << 20;
// Cells of a table, and the bytes that each takes once it is read: 0.8 GB.
constexpr double table_cells = 1e7, table_cell_bytes = 80;
// Bytes of a site file. Each number of it takes some 100 bytes once parsed; surveys stand in tables.
constexpr std::size_t site_file_bytes = 5'000'000;
// Tables of one kind (areas, designs, runs of a design) and places of one line or outline in a site file.
// Some of what is done with them grows with the square of their number.
constexpr std::size_t list_entries = 5000;
// Bytes of a drawing (GeoJSON or DXF), which the map library holds whole, several times its size.
constexpr std::size_t drawing_bytes = 50'000'000;

// Cells read of a raster, 8 bytes each: 0.8 GB.
constexpr double raster_cells = 1e8;
constexpr int raster_bands = 256; // heights are one band; turning thousands takes minutes
// Bytes of one tile or strip of a raster, which is unpacked whole.
constexpr double raster_block_bytes = 256e6;

// Cells of the computed grid, and the bytes that each takes in one run (measured, compare and diagnose of a
// plain yard of 250 000 cells) beside its maps over time.
constexpr double grid_cells = 4e6, grid_cell_bytes = 1400;

// The longest time in a site file and of a run [s]: three years. A storm with its dry time lasts days, a
// record of a gauge months; each simulated day costs seconds.
constexpr double longest_time = 3 * 365.25 * 86400;
// Rows of hydrographs.csv: three years of quarter hours.
constexpr double output_rows = 1.1e5;

} // namespace lowspot::limits
