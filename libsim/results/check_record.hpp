// One item of the list of checks: what was asked, what was found, and against which limit.
#pragma once
#include <limits>
#include <string>

namespace lowspot::results {

// How a check came out; unknown: a figure is missing.
enum class CheckOutcome { pass, fail, unknown };

// What one check says.
struct CheckRecord {
  std::string id;                               // stays the same: "pipe_cover", "footing", ...
  std::string name;                             // "Ground over the pipe"
  std::string about;                            // the run, outlet, building or tree it is about; may be empty
  CheckOutcome outcome = CheckOutcome::unknown; // how it came out
  std::string limit;                            // "at least 6 in"; empty where no figure is known
  std::string source, mark;                     // of the limit, as in catalog::RowSource
  std::string found;                            // "8.2 in, 12 ft up from the outlet"
  double found_value = std::numeric_limits<double>::quiet_NaN(); // SI; not a number: none
  double limit_value = std::numeric_limits<double>::quiet_NaN(); // SI; not a number: none
  std::string missing;  // what is not known and how to find out; empty unless unknown
  bool of_works = true; // decided by the works of the design, not by the yard it stands in
};

// "pass", "fail" or "unknown".
inline const char* outcome_name(CheckOutcome outcome) {
  return outcome == CheckOutcome::pass ? "pass" : outcome == CheckOutcome::fail ? "fail" : "unknown";
}

} // namespace lowspot::results
