// Defaults, with where each figure comes from, and warnings.
#include <lowspot/report/html.hpp>
#include <lowspot/report/sections.hpp>

namespace lowspot::report {

std::string assumptions_section(const Page& page) {
  std::string html;
  if (!page.comparison().warnings.empty())
    html +=
        "<div class=\"alert\"><h4>Look at these first</h4>" + list(page.comparison().warnings) + "</div>\n";
  Table table{"Figures that do not stand in the site file, and where they come from",
              {"figure", "value", "source"},
              {},
              {1, 2}};
  for (const auto& item : page.comparison().defaults) table.rows.push_back({item[0], item[1], item[2]});
  if (!table.rows.empty()) {
    html += "<details open><summary>" + std::to_string(table.rows.size()) + " figures</summary>\n";
    html += "<div class=\"twice\">" + table_html(table) + "</div></details>\n";
    html += paragraph(
        "measured: taken on the site; said: the owner's word; default: a value usual for the kind of soil, "
        "cover or part, to be replaced when it is known.");
  }
  return html.empty() ? paragraph("Every figure was given in the site file.") : html;
}

} // namespace lowspot::report
