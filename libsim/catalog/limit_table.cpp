// limits.csv: what works are held against.
#include <array>
#include <charconv>
#include <cmath>
#include <limits>
#include <utility>

#include <lowspot/base/quantity.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/catalog/rows.hpp>
#include <lowspot/catalog/tables.hpp>

namespace lowspot::catalog {
namespace {

LimitKind kind_of(const RowReader& row) {
  static const std::array<std::pair<const char*, LimitKind>, 6> kinds = {{{"length", LimitKind::length},
                                                                          {"velocity", LimitKind::velocity},
                                                                          {"slope", LimitKind::slope},
                                                                          {"share", LimitKind::share},
                                                                          {"time", LimitKind::time},
                                                                          {"multiple", LimitKind::multiple}}};
  const std::string found = row.text("kind");
  for (const auto& [word, kind] : kinds)
    if (found == word) return kind;
  row.refuse("kind", "\"" + found + "\"", "length, velocity, slope, share, time or multiple");
}

Dimension dimension_of(LimitKind kind) {
  switch (kind) {
  case LimitKind::length:
    return Dimension::length;
  case LimitKind::velocity:
    return Dimension::speed;
  case LimitKind::time:
    return Dimension::time;
  default:
    return Dimension::slope; // "80 %" is read as 0.8
  }
}

} // namespace

double read_limit(LimitKind kind, const std::string& text, std::string* problem) {
  constexpr double none = std::numeric_limits<double>::quiet_NaN();
  const auto refuse = [&](const std::string& why) {
    if (problem) *problem = why;
    return none;
  };
  double value = none;
  if (kind == LimitKind::multiple) {
    const std::string number = trim(text);
    const auto [end, error] = std::from_chars(number.data(), number.data() + number.size(), value);
    if (error != std::errc() || end != number.data() + number.size())
      return refuse("it is not a bare number");
  } else {
    const ParsedQuantity read = parse_quantity(text, dimension_of(kind));
    if (!read.ok) return refuse(read.problem);
    value = read.value;
  }
  if (!std::isfinite(value) || value < 0) return refuse("it must not be negative");
  return value;
}

std::string limit_example(LimitKind kind) {
  switch (kind) {
  case LimitKind::length:
    return "\"6 in\"";
  case LimitKind::velocity:
    return "\"1.4 ft/s\"";
  case LimitKind::slope:
    return "\"1 in per 8 ft\" or \"2 %\"";
  case LimitKind::share:
    return "\"80 %\"";
  case LimitKind::time:
    return "\"48 hr\"";
  case LimitKind::multiple:
    return "\"12\"";
  }
  return "";
}

std::vector<PracticeLimit> read_limits(const std::filesystem::path& file) {
  return read_rows<PracticeLimit>(file, "name", [](const RowReader& row) {
    PracticeLimit limit;
    limit.name = row.text("name");
    limit.kind = kind_of(row);
    const std::string written = row.text("limit");
    if (written != "ask") {
      std::string problem;
      limit.value = read_limit(limit.kind, written, &problem);
      if (std::isnan(limit.value))
        row.refuse("limit", "\"" + written + "\": " + problem,
                   "such as " + limit_example(limit.kind) + ", or ask");
      limit.written = written;
    }
    const std::string sense = row.text("sense");
    if (sense != "at least" && sense != "at most")
      row.refuse("sense", "\"" + sense + "\"", "at least or at most");
    limit.at_least = sense == "at least";
    limit.meaning = row.text("meaning");
    limit.from = row.source();
    return limit;
  });
}

} // namespace lowspot::catalog
