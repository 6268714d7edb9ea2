// How much of anything is read or computed. Each limit is far above what a yard needs and far below what
// would exhaust a computer of 8 GB; what exceeds it is refused before memory is taken, naming the memory it
// would need.
#pragma once
#include <cstddef>

namespace lowspot::limits {

// Bytes of a table: ten years of a gauge that writes every minute. Read whole, at once.
constexpr std::size_t text_bytes = 200'000'000;
// Cells of a table, some 80 bytes each once read: 0.8 GB.
constexpr double table_cells = 1e7;
// Bytes of a site file. Parsed, each number of it takes some 100 bytes; surveys stand in tables of their own.
constexpr std::size_t site_file_bytes = 5'000'000;
// Bytes of a drawing (GeoJSON or DXF), which the map library holds whole, several times its size.
constexpr std::size_t drawing_bytes = 50'000'000;

// Cells read of a raster, 8 bytes each: 0.8 GB.
constexpr double raster_cells = 1e8;
// Bytes of one tile or strip of a raster, which is unpacked whole.
constexpr double raster_block_bytes = 256e6;

} // namespace lowspot::limits
