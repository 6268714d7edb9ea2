#include <lowspot/report/tune_page.hpp>
#include <lowspot/report/tune_words.hpp>

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
  // What could not be laid out has no size, and is not told to take no digging.
  CHECK(report::tune_html(sample::site(), tuning).find(">\u2013</td><td class=\"n\">\u2013</td>") ==
        std::string::npos);
  CHECK(report::dig_text(sample::site(), tuning.tried[4]) == "5.1 cu yd");
  tuning.tried[4].candidate.works = {};
  CHECK_THAT(report::tune_html(sample::site(), tuning),
             ContainsSubstring(">\u2013</td><td class=\"n\">\u2013</td><td class=\"n\">\u2013</td>"));
  CHECK(report::dig_text(sample::site(), tuning.tried[4]) == "\u2013");
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
