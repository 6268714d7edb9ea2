// The form of a DXF drawing, looked at before a library reads it: one that breaks off can keep the library's
// reader going round for ever.
#pragma once
#include <filesystem>

namespace lowspot::gis {

// Pairs of lines, each a group code (a whole number) and its value, the last of them 0 and EOF: the text
// (ASCII) form of the DXF reference. Throws InputError with file and line where it is anything else, such as
// a drawing that breaks off or whose last line ends in a carriage return alone, and for a file that cannot be
// read.
void check_drawing_text(const std::filesystem::path& file);

} // namespace lowspot::gis
