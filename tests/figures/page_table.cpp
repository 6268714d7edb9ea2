#include "page_table.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <utility>

namespace figures {

namespace {

struct Line {
  std::string name, quantity, kind;
  std::vector<double> exact, computed;
  double off = 0, least_bound = 0, most_bound = 0;
};

std::vector<std::string> split(const std::string& text, char by) {
  std::vector<std::string> parts;
  std::stringstream stream(text);
  for (std::string part; std::getline(stream, part, by);) parts.push_back(part);
  if (!text.empty() && text.back() == by) parts.emplace_back();
  return parts;
}

std::string format(const char* pattern, double value) {
  char text[64];
  std::snprintf(text, sizeof text, pattern, value);
  return text;
}

std::string range(const std::vector<double>& values) {
  const auto [least, most] = std::minmax_element(values.begin(), values.end());
  return shown(*least) == shown(*most) ? shown(*least) : shown(*least) + " to " + shown(*most);
}

// Errors below it are not told apart: rounding, single precision, or the digits of the case.
constexpr double nothing = 1e-4;

// An error in two digits.
std::string error(double value, bool share) {
  if (value < nothing) return share ? "below 0.01 %" : "below 0.0001";
  return share ? format("%.2g", value * 100) + " %" : format("%.2g", value);
}

std::string bound(double value, bool share) {
  return share && value >= 1e-5 ? format("%.3g", value * 100) + " %" : format("%.3g", value);
}

std::string as_row(const Line& line) {
  const std::string start = "| " + line.name + " | " + line.quantity + " | ";
  const auto [least, most] = std::minmax_element(line.computed.begin(), line.computed.end());
  if (line.kind == "at least")
    return start + "| " + format("%.2g", *least) + " | | at least " + format("%.2g", line.most_bound) + " |";
  if (line.kind == "at most")
    return start + "| | " + error(*most, false) + " | " + bound(line.most_bound, false) + " |";
  const bool share = line.kind == "share";
  std::string allowed = bound(line.least_bound, share);
  if (line.most_bound > line.least_bound) allowed += " to " + bound(line.most_bound, share);
  return start + range(line.exact) + " | " + range(line.computed) + " | " + error(line.off, share) + " | " +
         allowed + " |";
}

// A number at the start of a text: its value and the worth of one of its last digit.
bool number(const char*& at, double& value, double& digit) {
  const char* start = at;
  if (*at == '-' && std::isdigit(static_cast<unsigned char>(at[1]))) ++at;
  if (!std::isdigit(static_cast<unsigned char>(*at))) {
    at = start;
    return false;
  }
  int decimals = 0;
  while (std::isdigit(static_cast<unsigned char>(*at))) ++at;
  if (*at == '.' && std::isdigit(static_cast<unsigned char>(at[1])))
    for (++at; std::isdigit(static_cast<unsigned char>(*at)); ++at) ++decimals;
  int power = 0;
  if (*at == 'e' && (at[1] == '-' || at[1] == '+')) {
    power = std::atoi(at + 1);
    for (at += 2; std::isdigit(static_cast<unsigned char>(*at)); ++at) {
    }
  }
  value = std::strtod(start, nullptr);
  digit = std::pow(10.0, power - decimals);
  return true;
}

bool same_line(const std::vector<std::string>& printed, const std::vector<std::string>& measured) {
  return std::equal(printed.begin(), printed.end(), measured.begin(), measured.end(), agrees);
}

const std::string opening = "<!-- figures: ", closing = "<!-- end of figures -->";

} // namespace

std::string shown(double value) {
  if (value == 0) return "0";
  const double size = std::abs(value);
  if (size < 1e-4) return format("%.2e", value);
  const int decimals = std::max(0, 2 - static_cast<int>(std::floor(std::log10(size * (1 + 1e-12)))));
  char text[64];
  std::snprintf(text, sizeof text, "%.*f", decimals, value);
  return text;
}

std::map<std::string, Tables> read_figures(const std::filesystem::path& folder) {
  std::map<std::string, Tables> pages;
  std::map<std::string, std::vector<Line>> lines;
  std::vector<std::filesystem::path> files;
  for (const auto& entry : std::filesystem::directory_iterator(folder))
    if (entry.path().extension() == ".tsv") files.push_back(entry.path());
  std::sort(files.begin(), files.end());
  for (const auto& file : files) {
    std::ifstream stream(file);
    for (std::string text; std::getline(stream, text);) {
      const std::vector<std::string> parts = split(text, '\t');
      if (parts.at(0) == "row") {
        std::string cells = "|";
        for (std::size_t k = 3; k < parts.size(); ++k) cells += " " + parts[k] + " |";
        pages[parts.at(1)][parts.at(2)].push_back(cells);
        continue;
      }
      auto& page = lines[parts.at(1)];
      auto line = std::find_if(page.begin(), page.end(), [&](const Line& each) {
        return each.name == parts.at(2) && each.quantity == parts.at(3);
      });
      const double exact = std::stod(parts.at(4)), computed = std::stod(parts.at(5)),
                   limit = std::stod(parts.at(7)), scale = std::stod(parts.at(8));
      if (line == page.end())
        line = page.insert(line, Line{parts.at(2), parts.at(3), parts.at(6), {}, {}, 0, limit, limit});
      line->exact.push_back(exact);
      line->computed.push_back(computed);
      const double off = std::abs(computed - exact);
      line->off =
          std::max(line->off, line->kind == "share" ? off / (scale > 0 ? scale : std::abs(exact)) : off);
      line->least_bound = std::min(line->least_bound, limit);
      line->most_bound = std::max(line->most_bound, limit);
    }
  }
  for (auto& [page, of_page] : lines) {
    // Readings of one case stand together, in the order in which the cases first came.
    std::vector<std::string> names;
    for (const Line& line : of_page)
      if (std::find(names.begin(), names.end(), line.name) == names.end()) names.push_back(line.name);
    for (const std::string& name : names)
      for (const Line& line : of_page)
        if (line.name == name) pages[page]["verification"].push_back(as_row(line));
  }
  return pages;
}

bool agrees(const std::string& printed, const std::string& measured) {
  const char *a = printed.c_str(), *b = measured.c_str();
  const std::string below = "below ";
  while (*a && *b) {
    if (below.compare(0, below.size(), a, below.size()) == 0 &&
        below.compare(0, below.size(), b, below.size()) != 0) {
      a += below.size();
      double most = 0, value = 0, digit = 0;
      if (!number(a, most, digit) || !number(b, value, digit) || value > 1.1 * most) return false;
      continue;
    }
    double first = 0, second = 0, first_digit = 0, second_digit = 0;
    const bool is_number = number(a, first, first_digit);
    if (is_number != number(b, second, second_digit)) return false;
    if (is_number) {
      // Both are rounded: one step of the last digit may be a hair.
      if (std::abs(first - second) > 1.001 * std::max(first_digit, second_digit)) return false;
      continue;
    }
    if (*a++ != *b++) return false;
  }
  return *a == *b;
}

PageCheck check_page(const std::string& page, const Tables& tables) {
  PageCheck check;
  std::stringstream stream(page);
  std::vector<std::string> seen;
  for (std::string text; std::getline(stream, text);) {
    check.mended += text + "\n";
    if (text.compare(0, opening.size(), opening) != 0) continue;
    const std::string name = text.substr(opening.size(), text.find(' ', opening.size()) - opening.size());
    seen.push_back(name);
    for (int k = 0; k < 2 && std::getline(stream, text); ++k) check.mended += text + "\n"; // the head
    std::vector<std::string> printed;
    while (std::getline(stream, text) && text != closing) printed.push_back(text);
    const auto table = tables.find(name);
    const std::vector<std::string> measured =
        table == tables.end() ? std::vector<std::string>{} : table->second;
    const bool same = same_line(printed, measured);
    for (const std::string& line : same ? printed : measured) check.mended += line + "\n";
    check.mended += closing + "\n";
    if (measured.empty()) check.faults.push_back("no test measured the table '" + name + "'");
    for (std::size_t k = 0; !same && k < std::max(printed.size(), measured.size()); ++k) {
      const std::string a = k < printed.size() ? printed[k] : "nothing",
                        b = k < measured.size() ? measured[k] : "nothing";
      if (!agrees(a, b)) check.faults.push_back("printed: " + a + "\n  measured: " + b);
    }
  }
  for (const auto& [name, lines] : tables)
    if (std::find(seen.begin(), seen.end(), name) == seen.end())
      check.faults.push_back("the page has no place for the table '" + name + "'");
  return check;
}

} // namespace figures
