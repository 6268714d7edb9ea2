#include "catch.hpp"

#include <filesystem>
#include <fstream>
#include <sstream>

#include <lowspot/report/write_sheets.hpp>

#include "report/sample_sheet.hpp"
#include "results/scratch_folder.hpp"

using namespace lowspot::report;

TEST_CASE("a proposal leaves all pages; without one those of the works are taken away") {
  const ScratchFolder scratch;
  sample::SheetMaker maker;
  maker.scene();
  write_sheets(maker.site, maker.ground, maker.comparison, scratch.path);
  const char* works[] = {"crew.html", "cutsheet.html", "cutsheet.csv", "takeoff.html", "takeoff.csv"};
  for (const char* name : works) CHECK(file_size(scratch.path / name) > 100);
  CHECK(file_size(scratch.path / "homeowner.html") > 10000);
  maker.comparison.designs.resize(1);
  maker.site.designs.clear();
  write_sheets(maker.site, maker.ground, maker.comparison, scratch.path);
  for (const char* name : works) CHECK_FALSE(exists(scratch.path / name));
  CHECK(exists(scratch.path / "permit.html"));
  maker.comparison.designs.clear();
  CHECK_THROWS_AS(write_sheets(maker.site, maker.ground, maker.comparison, scratch.path),
                  std::invalid_argument);
}

TEST_CASE("the cut sheet of a comparison names the limits that the design does not keep") {
  const ScratchFolder scratch;
  sample::SheetMaker maker;
  lowspot::results::CheckRecord check;
  check.id = "footing", check.name = "Trench beside a footing", check.about = "house";
  check.outcome = lowspot::results::CheckOutcome::fail;
  maker.comparison.designs[1].checks = {check};
  write_sheets(maker.site, maker.ground, maker.comparison, scratch.path);
  std::ostringstream page;
  page << std::ifstream(scratch.path / "cutsheet.html").rdbuf();
  CHECK_THAT(page.str(), ContainsSubstring("Trench beside a footing (house)"));
}
