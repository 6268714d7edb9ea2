#include <lowspot/base/csv.hpp>

#include <algorithm>
#include <cctype>
#include <charconv>
#include <cmath>

#include <lowspot/base/error.hpp>
#include <lowspot/base/limits.hpp>
#include <lowspot/base/text.hpp>

namespace lowspot {
namespace {
// The character that parts the cells: as spreadsheets write it, by the header line.
char separator_of(const std::string& header) {
  if (header.find(',') != std::string::npos) return ',';
  if (header.find(';') != std::string::npos) return ';';
  if (header.find('\t') != std::string::npos) return '\t';
  return ',';
}

// Cuts a text into records. A cell that begins with '"' ends at the next lone '"' and may hold separators and
// line ends, with "" for a quote; a quote later in a cell is plain text, so that 6' 4" needs no quoting.
class Cutter {
public:
  Cutter(const std::string& content, const std::string& file) : text_(content), file_(file) {
    if (text_.starts_with("\xEF\xBB\xBF")) at_ = 3;
  }

  // The next line that is neither blank nor a remark; false at the end.
  bool next(CsvRow& row) {
    while (at_ < text_.size()) {
      const std::size_t end = text_.find_first_of("\r\n", at_);
      const std::string line =
          trim(std::string_view(text_).substr(at_, end == std::string::npos ? end : end - at_));
      if (line.empty() || line[0] == '#') {
        refuse_named(line);
        skip_line(end);
        continue;
      }
      const bool header = separator_ == 0;
      if (header) separator_ = separator_of(line);
      row = record();
      if (header) separators_ = row.cells.size() - 1;
      for (const std::string& cell : row.cells)
        if (!cell.empty()) return true;
    }
    return false;
  }

private:
  // "#7,10.5,20,98.4" may be the point "#7" or a row that was taken out: passed over, it would be missed.
  void refuse_named(const std::string& line) const {
    if (separators_ == 0 || line.size() < 2 || !std::isalnum(static_cast<unsigned char>(line[1]))) return;
    if (static_cast<std::size_t>(std::count(line.begin(), line.end(), separator_)) != separators_) return;
    throw InputError({file_, line_, ""},
                     "a row that begins with \"" + line.substr(0, line.find(separator_)) + "\"",
                     "a name without #, which begins a remark",
                     "take the # off, or put a blank behind it where the row is to be passed over");
  }
  void skip_line(std::size_t end) {
    at_ = end == std::string::npos ? text_.size() : end;
    end_line();
  }
  void end_line() {
    if (at_ >= text_.size()) return;
    if (text_[at_] == '\r' && at_ + 1 < text_.size() && text_[at_ + 1] == '\n') ++at_;
    ++at_;
    ++line_;
  }
  bool at_line_end() const { return at_ >= text_.size() || text_[at_] == '\n' || text_[at_] == '\r'; }

  CsvRow record() {
    CsvRow row{line_, {}};
    for (;;) {
      while (at_ < text_.size() && text_[at_] != separator_ && (text_[at_] == ' ' || text_[at_] == '\t'))
        ++at_;
      row.cells.push_back(at_ < text_.size() && text_[at_] == '"' ? quoted() : plain());
      if (at_line_end()) break;
      ++at_; // the separator
    }
    end_line();
    return row;
  }

  std::string plain() {
    const std::size_t start = at_;
    while (!at_line_end() && text_[at_] != separator_) ++at_;
    return trim(std::string_view(text_).substr(start, at_ - start));
  }

  std::string quoted() {
    const int opened = line_;
    std::string cell;
    for (++at_; at_ < text_.size(); ++at_) {
      if (text_[at_] == '"') {
        if (at_ + 1 >= text_.size() || text_[at_ + 1] != '"') break;
        ++at_;
      }
      if (text_[at_] == '\n') ++line_;
      cell += text_[at_];
    }
    if (at_ >= text_.size())
      throw InputError({file_, opened, ""}, "a quoted cell that is never closed", "a closing quote",
                       "add the quote at the end of the cell");
    ++at_;
    const std::string rest = plain();
    if (!rest.empty())
      throw InputError({file_, line_, ""}, "\"" + rest + "\" after a closing quote", "the end of the cell",
                       "write a quote inside a quoted cell twice");
    return trim(cell);
  }

  const std::string& text_;
  const std::string& file_;
  std::size_t at_ = 0;
  int line_ = 1;
  char separator_ = 0;
  std::size_t separators_ = 0; // in the header
};

// A cell takes far more than its text: a table of a hundred million empty ones fits into a small file.
void refuse_huge(const std::string& content, const std::string& file_name) {
  double cells = 0;
  for (const char letter : content)
    cells += letter == ',' || letter == ';' || letter == '\t' || letter == '\n' || letter == '\r' ? 1 : 0;
  if (cells > limits::table_cells)
    throw InputError({file_name, 0, ""},
                     "a table of some " + rounded(cells, 2) + " cells, which would take " +
                         rounded(cells * limits::table_cell_bytes / 1e9, 2) + " GB of memory",
                     "at most " + rounded(limits::table_cells) + " cells",
                     "cut it down to the part that is needed");
}

void check_header(const CsvTable& table) {
  const bool numbers = std::all_of(table.columns.begin(), table.columns.end(), [](const std::string& name) {
    return !name.empty() && name.find_first_not_of("0123456789.-+") == std::string::npos;
  });
  if (numbers && table.columns.size() > 1)
    throw InputError({table.file, table.header_line, ""}, "numbers in the first row",
                     "the names of the columns there", "add a row above that names them");
  for (std::size_t k = 0; k < table.columns.size(); ++k)
    for (std::size_t other = 0; other < k; ++other)
      if (!table.columns[k].empty() && table.columns[k] == table.columns[other])
        throw InputError({table.file, table.header_line, table.columns[k]}, "this column twice",
                         "each column once", "rename or remove one of them");
}
} // namespace

int CsvTable::column(const std::string& name) const {
  for (std::size_t k = 0; k < columns.size(); ++k)
    if (columns[k] == name) return static_cast<int>(k);
  return -1;
}

std::string CsvTable::text(const CsvRow& row, const std::string& column_name) const {
  const int at = column(column_name);
  return at < 0 || at >= static_cast<int>(row.cells.size()) ? "" : row.cells[static_cast<std::size_t>(at)];
}

double CsvTable::number(const CsvRow& row, const std::string& column_name) const {
  const Where where{file, row.line, column_name};
  if (column(column_name) < 0)
    throw InputError({file, header_line, column_name}, "no such column", "a column of this name",
                     "add it to the header row");
  const std::string cell = text(row, column_name);
  if (cell.empty()) throw InputError(where, "an empty cell", "a number", "fill it in");
  const char* first = cell.data() + (cell[0] == '+' && !cell.starts_with("+-") ? 1 : 0);
  const char* last = cell.data() + cell.size();
  double value = 0;
  const auto result = std::from_chars(first, last, value);
  if (result.ec != std::errc() || result.ptr != last || !std::isfinite(value))
    throw InputError(where, "\"" + cell + "\"", "a plain number such as 3.25",
                     cell.find(',') != std::string::npos ? "write the decimal mark as a point"
                                                         : "leave out units and remarks");
  return value;
}

double CsvTable::number_or(const CsvRow& row, const std::string& column_name, double otherwise) const {
  return text(row, column_name).empty() ? otherwise : number(row, column_name);
}

CsvTable parse_csv(const std::string& content, const std::string& file_name) {
  refuse_huge(content, file_name);
  CsvTable table;
  table.file = file_name;
  Cutter cutter(content, table.file);
  CsvRow row;
  if (!cutter.next(row))
    throw InputError({file_name, 0, ""}, "an empty table", "a header row and at least one row below it",
                     "name the columns in the first row");
  table.header_line = row.line;
  for (const std::string& cell : row.cells) table.columns.push_back(lower(cell));
  check_header(table);
  while (cutter.next(row)) {
    for (std::size_t k = table.columns.size(); k < row.cells.size(); ++k)
      if (!row.cells[k].empty())
        throw InputError({file_name, row.line, ""},
                         "more cells than the header names (\"" + row.cells[k] + "\")",
                         std::to_string(table.columns.size()) + " cells",
                         "quote cells that hold the separator, and write decimals with a point");
    table.rows.push_back(std::move(row));
  }
  if (table.rows.empty())
    throw InputError({file_name, table.header_line, ""}, "a header row only", "at least one row below it",
                     "add the rows");
  return table;
}

CsvTable read_csv(const std::filesystem::path& path) {
  return parse_csv(read_text(path), path.string());
}

} // namespace lowspot
