#include <lowspot/report/page.hpp>

#include <algorithm>

#include <lowspot/report/sheet.hpp>

namespace lowspot::report {

int series_class(std::size_t design) {
  return design == 0 ? 0 : 1 + static_cast<int>((design - 1) % 5);
}

std::string design_on_paper(const Page& page) {
  const auto& designs = page.comparison().designs;
  const std::string& named = page.comparison().verdict.design;
  if (std::none_of(designs.begin(), designs.end(),
                   [&](const results::DesignRecord& each) { return each.name == named; }))
    return "";
  return designs[sheet_design(page.comparison())].name;
}

void shorten_on_paper(const Page& page, std::size_t column, Table& table) {
  const auto& designs = page.comparison().designs;
  const std::string chosen = design_on_paper(page);
  if (chosen.empty()) return;
  for (std::size_t row = 0; row < table.rows.size(); ++row)
    if (const std::string& name = table.rows[row].at(column); name != chosen && name != designs.front().name)
      table.screen_rows.push_back(row);
}

} // namespace lowspot::report
