// What the foot of a drain is called: where its water ends is not always an outlet that one can look at.
#pragma once
#include <string>

#include <lowspot/site/site.hpp>

namespace lowspot::report {

// Whether there are outlets, and all are of this kind ("dry well", "pump").
bool all_end_in(const site::Design& design, const std::string& kind);
// "the outlet"; "the dry well" or "the pump pit" where all outlets are such.
std::string foot_words(const site::Design& design);
// Of one outlet at its station: "outlet", "dry well" or "pump pit".
std::string foot_name(const site::Outlet& outlet);
// Where the water of a hose at the head is seen to arrive.
std::string seen_at_foot(const site::Design& design);
// What is measured there.
std::string measured_at_foot(const site::Design& design);

} // namespace lowspot::report
