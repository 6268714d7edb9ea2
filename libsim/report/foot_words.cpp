#include <lowspot/report/foot_words.hpp>

#include <algorithm>

namespace lowspot::report {

bool all_end_in(const site::Design& design, const std::string& kind) {
  return !design.outlets.empty() && std::all_of(design.outlets.begin(), design.outlets.end(),
                                                [&](const site::Outlet& each) { return each.kind == kind; });
}

std::string foot_words(const site::Design& design) {
  const bool alike = !design.outlets.empty() && all_end_in(design, design.outlets.front().kind);
  return "the " + (alike ? foot_name(design.outlets.front()) : std::string("outlet"));
}

std::string foot_name(const site::Outlet& outlet) {
  if (outlet.kind == "dry well") return "dry well";
  return outlet.kind == "pump" ? "pump pit" : "outlet";
}

std::string seen_at_foot(const site::Design& design) {
  if (all_end_in(design, "dry well")) return "water that rises in the dry well";
  return all_end_in(design, "pump") ? "water at the end of the pump's hose" : "water at the outlet";
}

std::string measured_at_foot(const site::Design& design) {
  if (all_end_in(design, "dry well")) return "depth in the dry well";
  return all_end_in(design, "pump") ? "flow at the pump's hose" : "flow at the outlet";
}

} // namespace lowspot::report
