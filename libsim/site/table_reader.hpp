// One table of the site file: typed values out, errors with file, line and key, and a record of what was
// asked for.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include <toml++/toml.h>

#include <lowspot/base/error.hpp>
#include <lowspot/base/geometry.hpp>
#include <lowspot/base/quantity.hpp>
#include <lowspot/catalog/catalog.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::site {

// What every reader shares. `site` is being filled: readers of later tables look at what earlier ones put
// there.
struct Context {
  std::string file;                // the site file as messages name it
  const catalog::Catalog& catalog; // whose names the file may use
  Site& site;                      // being filled
};

// Which numbers a quantity may be.
enum class Range { any, not_negative, positive };

// Keeps references to the table and the context: both must outlive it. Every key asked for counts as known;
// done() refuses the others. All reading functions throw InputError.
class TableReader {
public:
  // `path` is the table's name in messages. The context gathers warnings and defaults used.
  TableReader(const toml::table& table, std::string path, Context& context);

  // Whether the key is there at all, is a table, is an array.
  bool has(const std::string& key) const;
  bool is_table(const std::string& key) const;
  bool is_array(const std::string& key) const;
  const toml::node* find(const std::string& key) const; // null when absent
  // Throws when the key is absent; `expected` says what belongs there.
  const toml::node& required(const std::string& key, const std::string& expected) const;
  Context& context() const { return *context_; }
  int line() const;                               // of the table's header, 0 when it is not in the file
  Where where(const std::string& key = "") const; // of a key, or of the table itself
  std::string path(const std::string& key) const; // "design[2].run[1].trench.width", counted from 1

  // Text, trimmed and not empty.
  std::string text(const std::string& key, const std::string& expected = "text in quotes") const;
  std::optional<std::string> maybe_text(const std::string& key) const;
  // One of a few words; a misspelt one is answered with the nearest.
  std::string word(const std::string& key, const std::vector<std::string>& words) const;
  std::optional<bool> maybe_flag(const std::string& key) const;

  // Quantities with units, in SI.
  double quantity(const std::string& key, Dimension dimension, Range range = Range::not_negative) const;
  std::optional<double> maybe_quantity(const std::string& key, Dimension dimension,
                                       Range range = Range::not_negative) const;
  // `otherwise` is a quantity as a person writes it; using it is listed as an assumption.
  double quantity_or(const std::string& key, Dimension dimension, const std::string& otherwise,
                     Range range = Range::not_negative) const;
  // One quantity, or three as low, likely and high.
  std::optional<Band> maybe_band(const std::string& key, Dimension dimension,
                                 Range range = Range::not_negative) const;

  // Bare numbers for what has no dimension; "40 %" is read as 0.4.
  double number(const std::string& key, double least, double most) const;
  std::optional<double> maybe_number(const std::string& key, double least, double most) const;
  std::optional<Band> maybe_number_band(const std::string& key, double least, double most) const;
  // A bare number in the site's units, in metres.
  std::optional<double> maybe_elevation(const std::string& key) const;

  // Places, bare numbers in the site's units, in metres.
  Point point(const std::string& key) const;
  Polyline line_of_points(const std::string& key, std::size_t least = 2) const;
  std::vector<Point3> shots(const std::string& key, std::size_t least) const;
  std::vector<std::vector<Point3>> breaklines(const std::string& key) const;
  std::vector<double> elevations(const std::string& key) const;
  // `outline = [[x, y], ...]` or `rectangle = [x, y, width, depth]`: a simple polygon.
  Polygon outline() const;

  // The table under a key, if there; an empty one, where nothing is required, if not.
  std::optional<TableReader> table(const std::string& key) const;
  TableReader table_or_empty(const std::string& key) const;
  std::vector<TableReader> tables(const std::string& key) const; // [[key]] or key = [ {...}, ... ]

  void assume(const std::string& key, const std::string& value) const; // lists a default that was used
  // Adds a sentence with file, line and key.
  void warn(const std::string& key, const std::string& sentence) const;
  // Throws InputError for a key, with its line.
  [[noreturn]] void fail(const std::string& key, const std::string& found, const std::string& expected,
                         const std::string& mend) const;
  // Throws for a key that nobody asked for, naming the nearest known one.
  void done() const;

private:
  Band sorted_band(const std::string& key, std::vector<double> values) const;
  double coordinate(const std::string& key, const toml::node& node) const;
  std::vector<double> coordinates(const std::string& key, const toml::node& node, std::size_t count) const;
  double parsed(const std::string& key, const toml::node& node, Dimension dimension, Range range) const;
  double plain_number(const std::string& key, const toml::node& node, double least, double most) const;
  const toml::array& list(const std::string& key, const std::string& expected) const;

  const toml::table* table_;
  std::string path_;
  Context* context_;
  mutable std::vector<std::string> asked_;
};

// How a value looks in a message: "\"3 in\"", "12", "a list of 3", "a table".
std::string shown(const toml::node& node);

} // namespace lowspot::site
