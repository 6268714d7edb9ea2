// Reading rows of the catalogue: figures with their range, turned into SI, each checked on the way in.
#pragma once
#include <filesystem>
#include <string>

#include <lowspot/base/csv.hpp>
#include <lowspot/catalog/catalog.hpp>

namespace lowspot::catalog {

// The unit at the end of a column's name, and its value in SI.
struct ColumnUnit {
  std::string ending; // "_mm_h"; empty for figures without dimension
  double si = 1;      // one of it in SI
};
// Figures without dimension.
inline const ColumnUnit plain{"", 1};
// Inches.
inline const ColumnUnit inches{"_in", 0.0254};
// Metres.
inline const ColumnUnit metres{"_m", 1};
// Centimetres.
inline const ColumnUnit centimetres{"_cm", 0.01};
// Millimetres.
inline const ColumnUnit millimetres{"_mm", 1e-3};
// Hours under a plain name.
inline const ColumnUnit hours{"", 3600};

// Limits of what a figure may be, in the unit of its column.
struct Limits {
  double least = 0; // included
  double most = 0;  // included
};

// Reads the cells of one row. Keeps references to the table and the row: both must outlive it.
class RowReader {
public:
  RowReader(const CsvTable& table, const CsvRow& row) : table_(table), row_(row) {}
  // Text that must be there.
  std::string text(const std::string& column) const;
  // "yes" or "no".
  bool yes(const std::string& column) const;
  // The figure in column stem + ending, in SI. Throws InputError outside the limits.
  double number(const std::string& stem, const ColumnUnit& unit, const Limits& limits) const;
  // With its range in the columns stem_low and stem_high, where they are filled in: low <= value <= high.
  Figure figure(const std::string& stem, const ColumnUnit& unit, const Limits& limits) const;
  RowSource source() const; // columns source and mark
  [[noreturn]] void refuse(const std::string& column, const std::string& found,
                           const std::string& expected) const;

private:
  const CsvTable& table_;
  const CsvRow& row_;
};

// Every row of a table by `read`, which takes a RowReader. Names must differ.
template <typename Row, typename Read>
std::vector<Row> read_rows(const std::filesystem::path& file, const std::string& name_column, Read read) {
  const CsvTable table = read_csv(file);
  std::vector<Row> rows;
  std::vector<std::string> names;
  for (const CsvRow& line : table.rows) {
    const RowReader reader(table, line);
    const std::string name = reader.text(name_column);
    for (const std::string& other : names)
      if (other == name) reader.refuse(name_column, "\"" + name + "\" a second time", "a name of its own");
    names.push_back(name);
    rows.push_back(read(reader));
  }
  return rows;
}

} // namespace lowspot::catalog
