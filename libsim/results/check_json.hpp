// A list of checks as summary.json and the command line write it.
#pragma once
#include <vector>

#include <nlohmann/json.hpp>

#include <lowspot/results/check_record.hpp>

namespace lowspot::results {

// One object a check: id, name, about, outcome ("pass", "fail", "unknown"), found, found_si, limit, limit_si
// (null where there is no figure), source, mark, missing, of_works.
nlohmann::ordered_json checks_json(const std::vector<CheckRecord>& list);

} // namespace lowspot::results
