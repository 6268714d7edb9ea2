// Text as one cell of a table that is written.
#pragma once
#include <string>

namespace lowspot {

// Quoted where a comma, semicolon, tab, quote or line end stands in it, and never taken for a formula by a
// spreadsheet: what begins with = + - @, a tab or a line end gets an apostrophe before it.
std::string csv_text(const std::string& text);

} // namespace lowspot
