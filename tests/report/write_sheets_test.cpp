#include "catch.hpp"

#include <filesystem>

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
