#include <lowspot/catalog/rows.hpp>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>

namespace lowspot::catalog {

void RowReader::refuse(const std::string& column, const std::string& found,
                       const std::string& expected) const {
  throw InputError({table_.file, row_.line, column}, found, expected, "mend this row of the catalogue");
}

std::string RowReader::text(const std::string& column) const {
  std::string found = table_.text(row_, column);
  if (found.empty()) refuse(column, "nothing", "an entry");
  return found;
}

bool RowReader::yes(const std::string& column) const {
  const std::string found = text(column);
  if (found != "yes" && found != "no") refuse(column, "\"" + found + "\"", "yes or no");
  return found == "yes";
}

double RowReader::number(const std::string& stem, const ColumnUnit& unit, const Limits& limits) const {
  const std::string column = stem + unit.ending;
  const double found = table_.number(row_, column);
  if (found < limits.least || found > limits.most)
    refuse(column, number_text(found),
           "between " + number_text(limits.least) + " and " + number_text(limits.most));
  return found * unit.si;
}

Figure RowReader::figure(const std::string& stem, const ColumnUnit& unit, const Limits& limits) const {
  const double value = number(stem, unit, limits);
  const auto end = [&](const std::string& which) {
    return table_.text(row_, stem + which + unit.ending).empty() ? value : number(stem + which, unit, limits);
  };
  const Figure figure{value, end("_low"), end("_high")};
  if (figure.low > figure.value || figure.value > figure.high)
    refuse(stem + unit.ending, "a figure outside its own range", "low, figure and high in rising order");
  return figure;
}

RowSource RowReader::source() const {
  RowSource from{text("source"), text("mark")};
  if (from.mark != "V" && from.mark != "M" && from.mark != "C" && from.mark != "default")
    refuse("mark", "\"" + from.mark + "\"", "V, M, C or default");
  return from;
}

} // namespace lowspot::catalog
