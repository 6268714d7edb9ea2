// An ASCII grid's own text, looked through before the raster library reads it: the library takes "200.5" rows
// for 200 and "1o0" for 1, and searches a file that breaks off again and again.
#pragma once
#include <filesystem>

namespace lowspot::gis {

// Whether the file begins as an ASCII grid does, with one of its keywords. False for what cannot be read.
bool is_ascii_grid(const std::filesystem::path& path);

// Reads the whole text once, in pieces, without keeping it. Throws InputError with the line where a keyword
// is missing, stands twice or is unknown, a size is no whole number, a place or a side of a cell no number
// that can be one, a height no number, or where there are fewer or more heights than columns times rows.
void check_ascii_grid(const std::filesystem::path& path);

} // namespace lowspot::gis
