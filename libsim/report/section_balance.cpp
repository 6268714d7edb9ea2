// The water balance of each design.
#include <algorithm>
#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/sections.hpp>

namespace lowspot::report {
namespace {

struct Line {
  const char* name;
  double results::LedgerRecord::*member;
};
constexpr Line lines[] = {
    {"rain on the yard", &results::LedgerRecord::rain},
    {"run-on from outside", &results::LedgerRecord::inflow},
    {"in the ground and on it at the start", &results::LedgerRecord::stored_start},
    {"left over the edges", &results::LedgerRecord::left_over_edges},
    {"of that, through the ground", &results::LedgerRecord::left_underground},
    {"left by the drains", &results::LedgerRecord::left_by_drains},
    {"seeped through the tight layer", &results::LedgerRecord::deep_leakage},
    {"drunk by plants and dried up", &results::LedgerRecord::evapotranspiration},
    {"in the ground and on it at the end", &results::LedgerRecord::stored_end},
    {"soaked in on the way (a transfer)", &results::LedgerRecord::infiltrated},
};

std::string closure(const results::LedgerRecord& ledger) {
  const double base = std::max(std::abs(ledger.rain), 1e-12);
  const double share = std::abs(ledger.closure) / base;
  if (!std::isfinite(share)) return "unknown";
  if (share < 1e-8) return "less than a part in 100 million";
  return rounded(100 * share, 2) + " % of the rain";
}

} // namespace

std::string balance_section(const Page& page) {
  Table table{"Water balance, " + page.units().volume.name, {"where the water is"}, {}, {}};
  for (const results::DesignRecord& design : page.comparison().designs) table.head.push_back(design.name);
  // Whole units where the rain is large, so that the columns can be added up by hand.
  double rain = 0;
  for (const results::DesignRecord& design : page.comparison().designs)
    rain = std::max(rain, design.ledger.rain);
  const double shown = page.units().volume.of(rain);
  const int decimals = shown >= 100 ? 0 : shown >= 1 ? 2 : 4;
  for (const Line& line : lines) {
    std::vector<std::string> row = {line.name};
    for (const results::DesignRecord& design : page.comparison().designs)
      row.push_back(fixed(page.units().volume.of(design.ledger.*line.member), decimals));
    table.rows.push_back(std::move(row));
  }
  std::vector<std::string> last = {"not accounted for"};
  for (const results::DesignRecord& design : page.comparison().designs)
    last.push_back(closure(design.ledger));
  table.rows.push_back(std::move(last));
  return table_html(table) +
         paragraph(
             "Rain, run-on and what was there at the start equal what left and what is there at the end.");
}

} // namespace lowspot::report
