#include "catch.hpp"

#include <filesystem>
#include <fstream>
#include <unistd.h>

#include <lowspot/base/error.hpp>
#include <lowspot/catalog/catalog.hpp>

using namespace lowspot;
namespace fs = std::filesystem;

namespace {
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
