// The yard that the program hands to a beginner must be read without a single complaint.
#include "../../cli/start_template.hpp"

#include <cstdio>
#include <sstream>

#include <lowspot/catalog/catalog.hpp>

#include "sample.hpp"

using namespace sample;

namespace {
site::Site template_site(const catalog::Catalog& rows) {
  const Folder folder;
  folder.write("levels.csv", cli::start_levels_text);
  folder.write("site.toml", cli::start_site_text);
  return site::read_site(folder.path, rows);
}
} // namespace

TEST_CASE("the yard to begin from is read without a warning, with the catalogue as it ships") {
  const auto rows = catalog::read_catalog(LOWSPOT_SOURCE_DATA "/catalog");
  const auto site = template_site(rows);
  CHECK(site.warnings.empty());
  CHECK(site.areas.size() == 3);
  REQUIRE(site.designs.size() == 1);
  CHECK(site.designs[0].runs.at(0).pipe.slot_area > 0);
  CHECK(site.designs[0].runs.at(1).to == "fence outlet");
  CHECK(site.gauges.size() == 1);
}

TEST_CASE("the levels of the yard to begin from are x,y,elevation inside the yard") {
  std::istringstream lines(cli::start_levels_text);
  std::string line;
  std::getline(lines, line);
  CHECK(line == "x,y,elevation,note");
  int count = 0;
  while (std::getline(lines, line)) {
    double x = 0, y = 0, z = 0;
    REQUIRE(std::sscanf(line.c_str(), "%lf,%lf,%lf", &x, &y, &z) == 3);
    CHECK(x >= 0);
    CHECK(x <= 60);
    CHECK(y >= 0);
    CHECK(y <= 40);
    CHECK(z > 95);
    CHECK(z < 105);
    ++count;
  }
  CHECK(count >= 20);
}
