// The list of checks of each design.
#include <algorithm>

#include <lowspot/report/html.hpp>
#include <lowspot/report/sections.hpp>

namespace lowspot::report {
namespace {
using results::CheckOutcome;
using results::CheckRecord;

// What fails stands first, then what is not known.
std::vector<CheckRecord> by_urgency(std::vector<CheckRecord> list) {
  const auto rank = [](const CheckRecord& record) {
    return record.outcome == CheckOutcome::fail ? 0 : record.outcome == CheckOutcome::unknown ? 1 : 2;
  };
  std::stable_sort(list.begin(), list.end(),
                   [&](const CheckRecord& a, const CheckRecord& b) { return rank(a) < rank(b); });
  return list;
}

std::string outcome_word(CheckOutcome outcome) {
  return outcome == CheckOutcome::pass ? "pass" : outcome == CheckOutcome::fail ? "FAIL" : "UNKNOWN";
}

std::string count_sentence(const results::DesignRecord& design) {
  const auto count = [&](CheckOutcome outcome) {
    return std::to_string(std::count_if(design.checks.begin(), design.checks.end(),
                                        [&](const CheckRecord& one) { return one.outcome == outcome; }));
  };
  return design.name + ": " + count(CheckOutcome::fail) + " fail, " + count(CheckOutcome::unknown) +
         " unknown, " + count(CheckOutcome::pass) + " pass";
}

Table check_table(const results::DesignRecord& design) {
  Table table{count_sentence(design), {"check", "of", "", "found", "limit", "from"}, {}, {1, 2, 3, 4, 5}};
  for (const CheckRecord& record : by_urgency(design.checks)) {
    if (record.outcome == CheckOutcome::pass) table.screen_rows.push_back(table.rows.size());
    std::string found = record.found;
    if (!record.missing.empty())
      found += (found.empty() ? "" : ". ") + std::string("Missing: ") + record.missing;
    table.rows.push_back({record.name, record.about, outcome_word(record.outcome), found,
                          record.limit.empty() ? "\u2013" : record.limit,
                          record.source + (record.mark.empty() ? "" : " [" + record.mark + "]")});
  }
  return table;
}

} // namespace

std::string checks_section(const Page& page) {
  std::string html;
  const auto& designs = page.comparison().designs;
  // The design that is proposed stands open, the others folded away.
  const std::string proposed = design_on_paper(page);
  for (const bool chosen : {true, false})
    for (const results::DesignRecord& design : designs) {
      if (design.checks.empty() || (design.name == proposed) != chosen) continue;
      const std::string table = table_html(check_table(design));
      html += chosen ? table
                     : "<details><summary>" + escape(count_sentence(design)) + "</summary>" + table +
                           "</details>\n";
    }
  if (html.empty()) return "";
  return paragraph(
             "Limits are examples from codes and practice: the local text governs. A figure of the town "
             "goes in [limits] of the site file. Marks: V seen in the source, M from memory, C computed, "
             "town: given in the site file.") +
         html;
}

} // namespace lowspot::report
