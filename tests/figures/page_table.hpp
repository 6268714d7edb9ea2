// Tables of the layers' pages: made from what the tests measured, held against what the pages print.
#pragma once
#include <filesystem>
#include <map>
#include <string>
#include <vector>

namespace figures {

// A page's tables by name; each is its lines as they stand in the page, without the two lines of the head.
using Tables = std::map<std::string, std::vector<std::string>>;

// Reads every PROGRAM.tsv of a folder: page -> tables. Readings go to the table "verification".
std::map<std::string, Tables> read_figures(const std::filesystem::path& folder);

// Three figures, no more: "0.0875", "2.08", "3750".
std::string shown(double value);

// One line against another: words alike, and numbers alike to one step of the last digit printed, since both
// are rounded and compilers differ in last bits. "below 0.0001" stands for anything below it.
bool agrees(const std::string& printed, const std::string& measured);

// What is wrong with a page, or nothing. `mended`: the page with the tables as measured.
struct PageCheck {
  std::vector<std::string> faults;
  std::string mended;
};
PageCheck check_page(const std::string& page, const Tables& tables);

} // namespace figures
