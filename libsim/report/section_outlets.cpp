// Where the water of the low spots could go by gravity.
#include <lowspot/report/diagnosis_tables.hpp>
#include <lowspot/report/sections.hpp>

namespace lowspot::report {

std::string outlets_section(const Page& page) {
  return page.diagnosis == nullptr ? "" : outlets_html(page.site(), *page.diagnosis, page.units());
}

} // namespace lowspot::report
