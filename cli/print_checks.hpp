// The list of checks on the terminal.
#pragma once
#include <string>
#include <vector>

#include <lowspot/results/check_record.hpp>

#include "commands.hpp"

namespace lowspot::cli {

// What fails and what is unknown in full, what passes in a line each.
void print_checks(const Context& context, const std::string& heading,
                  const std::vector<results::CheckRecord>& list);

} // namespace lowspot::cli
