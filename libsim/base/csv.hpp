// Comma-separated tables with a header row, each row knowing its line, so that errors can point at it.
#pragma once
#include <filesystem>
#include <string>
#include <vector>

namespace lowspot {

// One row of a table.
struct CsvRow {
  int line = 0;                   // in the file, from 1
  std::vector<std::string> cells; // trimmed, without quotes; a row may be shorter than the header
};

// Column names are lower-cased and trimmed. Lines that are blank or begin with '#' are passed over.
struct CsvTable {
  std::string file;                 // as messages name it
  int header_line = 0;              // from 1
  std::vector<std::string> columns; // of the header, in order
  std::vector<CsvRow> rows;         // in the order of the file

  int column(const std::string& name) const; // -1 when absent
  // Text of a cell, trimmed; empty when the column is absent or the row is short.
  std::string text(const CsvRow& row, const std::string& column_name) const;
  // Number in a cell. Throws InputError with file, line and column.
  double number(const CsvRow& row, const std::string& column_name) const;
  // As number(), but `otherwise` where the cell is empty or the column absent.
  double number_or(const CsvRow& row, const std::string& column_name, double otherwise) const;
};

// Throws InputError when the file is missing, not text, has no header, no rows or ragged quoting.
CsvTable read_csv(const std::filesystem::path& path);
CsvTable parse_csv(const std::string& content, const std::string& file_name);

} // namespace lowspot
