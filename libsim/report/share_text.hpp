// How pages and answers write a share of a puddle's water.
#pragma once
#include <string>

namespace lowspot::report {

// Whole percent, halves upward, as study::shares_sentence() writes it, so that a page says one share one way:
// 0.125 -> "13 %", 0.997 -> "over 99 %", 0.002 -> "under 1 %"; "none" for 0. `share`: 0 to 1.
std::string share_text(double share);

} // namespace lowspot::report
