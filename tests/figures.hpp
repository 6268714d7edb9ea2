// What a test measures, written down for the pages of the layers (libsim/LAYER/README.md). A test calls
// record() or row() beside its assertion; nothing happens unless LOWSPOT_FIGURES names a folder, in which
// each test program then leaves one file, PROGRAM.tsv. tests/figures/ holds the pages against those files.
// Bounds stay in the assertions: what is handed over here is only shown.
#pragma once
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <initializer_list>
#include <string>
#include <utility>
#include <vector>

namespace figures {

// What an assertion allows, and so how the error is shown.
struct Allowed {
  const char* kind;
  double bound;
  double scale; // of a share; 0: the exact value
};
// |computed - exact| as a share of the exact value, or of a scale.
inline Allowed share(double bound, double scale = 0) {
  return {"share", bound, scale};
}
// |computed - exact| in the unit shown.
inline Allowed amount(double bound) {
  return {"amount", bound, 0};
}
// An order of convergence, or another figure that may not be less.
inline Allowed at_least(double bound) {
  return {"at least", bound, 0};
}
// An error that is measured as one figure.
inline Allowed at_most(double bound) {
  return {"at most", bound, 0};
}

class Book {
public:
  Book() {
    if (const char* folder = std::getenv("LOWSPOT_FIGURES"); folder && *folder) folder_ = folder;
  }
  Book(const Book&) = delete;
  Book& operator=(const Book&) = delete;
  ~Book() {
    if (lines_.empty()) return;
    std::error_code ignored; // an exit is no place to throw; tests/figures says which lines are missing
    std::filesystem::create_directories(folder_, ignored);
    std::ofstream file(folder_ / (std::filesystem::path(LOWSPOT_TEST_DIR).filename().string() + ".tsv"));
    for (const std::string& line : lines_) file << line << "\n";
  }
  bool open() const { return !folder_.empty(); }
  void add(const std::string& line) { lines_.push_back(line); }
  static Book& instance() {
    static Book book;
    return book;
  }

private:
  std::filesystem::path folder_;
  std::vector<std::string> lines_;
};

// One reading of a quantity: readings of one page, case and quantity become one line of its table, with the
// range of the values and the largest error. The unit belongs to the quantity's name ("discharge, L/s").
inline void record(const std::string& page, const std::string& name, const std::string& quantity,
                   double exact, double computed, Allowed allowed) {
  if (!Book::instance().open()) return;
  char values[160];
  std::snprintf(values, sizeof values, "%.17g\t%.17g\t%s\t%.17g\t%.17g", exact, computed, allowed.kind,
                allowed.bound, allowed.scale);
  Book::instance().add("reading\t" + page + "\t" + name + "\t" + quantity + "\t" + values);
}
inline void record(const std::string& page, const std::string& name, const std::string& quantity,
                   double computed, Allowed allowed) {
  record(page, name, quantity, 0, computed, allowed);
}

// One line, ready made, of a table of its own.
inline void row(const std::string& page, const std::string& table, const std::vector<std::string>& cells) {
  if (!Book::instance().open()) return;
  std::string line = "row\t" + page + "\t" + table;
  for (const std::string& cell : cells) line += "\t" + cell;
  Book::instance().add(line);
}

} // namespace figures
