#include <lowspot/report/tune_page.hpp>

#include <fstream>

#include "catch.hpp"
#include "report/sample_tuning.hpp"
#include "results/scratch_folder.hpp"

#include <lowspot/base/csv.hpp>

using namespace lowspot;

TEST_CASE("the page says the answer before anything else and names nothing outside itself") {
  const std::string html = report::tune_html(sample::site(), sample::tuning());
  CHECK(html.find("The smallest that does it is") < html.find("<svg"));
  CHECK(html.find("<svg") < html.find("<table"));
  CHECK(html.find("://") == std::string::npos);
  CHECK(html.find(">does it do?<") < html.find(">to dig, ")); // seen without scrolling on a telephone
  CHECK_THAT(html, ContainsSubstring("cannot be built: no fall left") &&
                       ContainsSubstring("would do, by the quick look"));
  study::Tuning tuning = sample::tuning();
  tuning.tried[0].candidate.name = "<script>";
  CHECK(report::tune_html(sample::site(), tuning).find("<script>") == std::string::npos);
}

TEST_CASE("page, table and figures in a folder; the table reads back") {
  const ScratchFolder folder;
  report::write_tuning(sample::site(), sample::tuning(), folder.path);
  CHECK(std::filesystem::exists(folder.path / "tune.html"));
  CHECK(std::filesystem::exists(folder.path / "tune.json"));
  const CsvTable table = read_csv(folder.path / "tune.csv");
  REQUIRE(table.rows.size() == 5);
  CHECK(table.text(table.rows[2], "combination") == "16 in deep; open stone");
  CHECK(table.number(table.rows[2], "dig_m3") == 1.9);
  CHECK(table.text(table.rows[2], "works") == "yes");
  CHECK(table.text(table.rows[4], "limit") == "fall");
  CHECK(table.text(table.rows[3], "standing_hours").empty());
}
