// The slips of hand and eye that leave a number wrong, and what the number would be without them.
#pragma once
#include <string>
#include <vector>

#include <lowspot/terrain/levels.hpp>

namespace lowspot::terrain {

// Ways to write a number wrongly.
enum class SlipKind {
  transposed,       // 5.34 for 5.43
  whole_unit,       // a foot, or a metre or decimetre
  half_foot,        // half of a foot
  ten_units,        // ten feet
  inches_as_tenths, // 4' 6" written as 4.6
  tenths_as_inches, // 4.6 written as 4' 6"
};

// A slip that may stand behind a number.
struct Slip {
  SlipKind kind = SlipKind::transposed; // which one
  std::string meant;                    // the number as it should then have been written
  double change = 0;                    // of the elevation if so [m]
};

// Every slip that could stand behind what was written; empty where nothing was. Changes under 5 mm are left
// out: no survey of a yard shows them.
std::vector<Slip> possible_slips(const Written& written);

// "two digits changed places", ... for messages.
std::string slip_name(SlipKind kind, double unit);

} // namespace lowspot::terrain
