#include "catch.hpp"

#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>
#include <string>
#include <unistd.h>

#include <lowspot/base/csv.hpp>
#include <lowspot/base/error.hpp>
#include <lowspot/catalog/catalog.hpp>

using namespace lowspot;
namespace fs = std::filesystem;

namespace {
std::string text_of(const fs::path& file) {
  std::ifstream stream(file);
  std::stringstream text;
  text << stream.rdbuf();
  return text.str();
}

// A copy of the catalogue that may be damaged.
struct Copy {
  Copy() : folder(fs::temp_directory_path() / ("lowspot-catalog-" + std::to_string(::getpid()))) {
    fs::copy(LOWSPOT_SOURCE_DATA "/catalog", folder, fs::copy_options::recursive);
  }
  ~Copy() { fs::remove_all(folder); }
  fs::path folder;
};
} // namespace

TEST_CASE("The catalogue as it ships: every row with source and mark") {
  const catalog::Catalog all = catalog::read_catalog(LOWSPOT_SOURCE_DATA "/catalog");
  CHECK(all.covers.size() == 9);
  CHECK(all.soils.size() == 11);
  CHECK(all.pipes.size() >= 19);
  CHECK(all.stones.size() == 6);
  CHECK(all.fabrics.size() == 7);
  CHECK(all.caps.size() == 4);
  CHECK(all.plants.size() >= 20);
  CHECK(all.climate.size() == 12);
  CHECK(all.folder == fs::path(LOWSPOT_SOURCE_DATA "/catalog"));
  for (const auto& row : all.plants) CHECK(row.from.source.size() > 10);
}

TEST_CASE("A missing table and a name that stands twice are refused by file") {
  const Copy copy;
  std::ofstream(copy.folder / "climate.csv", std::ios::app) << "May,4,again,default\n";
  CHECK_THROWS_WITH(catalog::read_catalog(copy.folder),
                    ContainsSubstring("climate.csv:17") && ContainsSubstring("a second time"));
  fs::remove(copy.folder / "climate.csv");
  CHECK_THROWS_WITH(catalog::read_catalog(copy.folder), ContainsSubstring("climate.csv"));
}

// Over the files as they lie there, so that a table added later is looked at too.
TEST_CASE(
    "Every figure that ships has a source and a mark, and the data page names every table with its marks") {
  const fs::path data = LOWSPOT_SOURCE_DATA;
  const std::string page = text_of(data / "README.md");
  const std::set<std::string> known = {"V", "M", "C", "default"};
  int tables = 0;
  for (const auto& entry : fs::directory_iterator(data / "catalog")) {
    if (entry.path().extension() != ".csv") continue;
    ++tables;
    const std::string name = entry.path().filename().string();
    INFO(name);
    const CsvTable table = read_csv(entry.path());
    std::set<std::string> marks;
    if (table.column("mark") >= 0) {
      for (const CsvRow& row : table.rows) {
        INFO("line " << row.line);
        CHECK(table.text(row, "source").size() > 10);
        CHECK(known.count(table.text(row, "mark")) == 1);
        marks.insert(table.text(row, "mark"));
      }
    } else { // a series of figures: its remark says it for all of them, in brackets
      std::istringstream lines(text_of(entry.path()));
      for (std::string line; std::getline(lines, line) && line.rfind('#', 0) == 0;)
        for (const std::string& mark : known)
          if (line.find("[" + mark + "]") != std::string::npos) marks.insert(mark);
    }
    CHECK_FALSE(marks.empty());
    const std::size_t at = page.find("| `" + name + "` |");
    REQUIRE(at != std::string::npos);
    const std::string row = page.substr(at, page.find('\n', at) - at);
    const std::size_t cell = row.rfind("| ", row.size() - 3) + 2;
    std::set<std::string> said;
    std::istringstream words(row.substr(cell, row.size() - 2 - cell));
    for (std::string word; std::getline(words >> std::ws, word, ',');) said.insert(word);
    CHECK(said == marks);
  }
  CHECK(tables == 11);
}
