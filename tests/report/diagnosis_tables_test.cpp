#include "catch.hpp"

#include <lowspot/report/diagnosis_tables.hpp>

#include "report/sample_diagnosis.hpp"

using namespace lowspot::report;

TEST_CASE("tables of a diagnosis carry every figure once, in the site's units") {
  auto all = sample::diagnosis();
  const Units units = units_for("ft");
  const Table spots = low_spot_table(all, units);
  REQUIRE(spots.rows.size() == 1);
  CHECK(spots.rows[0].size() == spots.head.size());
  CHECK(spots.rows[0][10] == "0.79");
  const Table shed = catchment_table(all, units);
  CHECK(shed.rows[0].size() == shed.head.size());
  CHECK_THAT(shed.rows[0][3], ContainsSubstring("patio 431 ft"));
  CHECK_THAT(shed.rows[0][4], ContainsSubstring("west downspout 420 ft"));
  const Table basins = basin_table(all, units);
  REQUIRE(basins.rows.size() == 3);
  CHECK(basins.rows[0].size() == basins.head.size());
  CHECK_THAT(basins.rows[0][5], ContainsSubstring("spills to hollow 2"));
  CHECK(basins.rows[2][5] == "out of the yard");
  const Table outlets = outlet_table(all, units);
  REQUIRE(outlets.rows.size() == 3);
  CHECK(outlets.rows[0].size() == outlets.head.size());
  CHECK(outlets.rows[1][1] == "street (curb)");
  CHECK_THAT(outlets.rows[2][0], ContainsSubstring("head of west leg"));
  all.low_spots[0].outlets[1].path.clear();
  CHECK(outlet_table(all, units).rows[1][3] == "\u2013");
}

TEST_CASE("names from the file are escaped, long lists are cut and said to be") {
  auto all = sample::diagnosis();
  all.low_spots[0].place = "<b>bed</b>";
  for (int k = 2; k < 20; ++k) {
    all.low_spots.push_back(all.low_spots[0]);
    all.low_spots.back().spot.id = k;
    all.low_spots.back().outlets.clear();
  }
  const std::string html = low_spots_html(all, units_for("ft"));
  CHECK(html.find("<b>bed") == std::string::npos);
  CHECK_THAT(html, ContainsSubstring("12 largest of 19"));
  const auto site = sample::site();
  CHECK_THAT(outlets_html(site, all, units_for("ft")), ContainsSubstring("0.5 % fall"));
  all.low_spots.clear();
  all.heads.clear();
  CHECK_THAT(low_spots_html(all, units_for("ft")), ContainsSubstring("no low spot"));
  CHECK(outlets_html(site, all, units_for("ft")).empty());
}

TEST_CASE("tables list what a person would dig for, and say what the rest hold") {
  auto all = sample::diagnosis();
  auto small = all.low_spots[0];
  small.spot.id = 2;
  small.spot.area = 0.1;
  small.spot.volume = 0.001;
  all.low_spots.push_back(small);
  const Units units = units_for("m");
  CHECK(low_spot_table(all, units).rows.size() == 1);
  CHECK(catchment_table(all, units).rows.size() == 1);
  CHECK_THAT(low_spots_html(all, units), ContainsSubstring("One small hollow holds"));
  all.low_spots.erase(all.low_spots.begin()); // with nothing else there, it is shown
  CHECK(low_spot_table(all, units).rows.size() == 1);
}

TEST_CASE("one low spot is one") {
  const auto diagnosis = sample::diagnosis();
  REQUIRE(diagnosis.low_spots.size() == 1);
  CHECK_THAT(diagnosis_figure(diagnosis, ""), ContainsSubstring(": 1 low spot.\""));
}
