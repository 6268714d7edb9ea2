#include "print_checks.hpp"

#include <cstdio>

#include <lowspot/base/text.hpp>

namespace lowspot::cli {
namespace {
using results::CheckOutcome;
using results::CheckRecord;

void print_group(const std::vector<CheckRecord>& list, CheckOutcome outcome, const std::string& word) {
  for (const CheckRecord& record : list) {
    if (record.outcome != outcome) continue;
    std::string text = record.name + (record.about.empty() ? "" : ", " + record.about) + ": " + record.found;
    if (!record.limit.empty()) text += "; asked for: " + record.limit;
    if (outcome != CheckOutcome::pass && !record.limit.empty()) text += " (" + record.source + ")";
    if (!record.missing.empty()) text += ". Missing: " + record.missing;
    std::printf("  %-8s %s\n", word.c_str(), wrap(text, 11).c_str());
  }
}
} // namespace

void print_checks(const Context& context, const std::string& heading, const std::vector<CheckRecord>& list) {
  if (list.empty()) return;
  std::printf("\n%s\n", context.terminal.bold(wrap(heading)).c_str());
  print_group(list, CheckOutcome::fail, "FAIL");
  print_group(list, CheckOutcome::unknown, "UNKNOWN");
  print_group(list, CheckOutcome::pass, "pass");
}

} // namespace lowspot::cli
