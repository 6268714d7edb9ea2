#include "catch.hpp"

#include <cmath>

#include <lowspot/report/takeoff_table.hpp>

using namespace lowspot;

namespace {
job::Takeoff sample() {
  job::Takeoff takeoff;
  takeoff.design = "one";
  job::TakeoffLine stone;
  stone.group = "stone", stone.item = "No. 57", stone.measure = job::Measure::volume;
  stone.net = 4, stone.ordered = 4.32, stone.mass = 7097, stone.loads = 1, stone.allowance = "8 % waste";
  stone.price = 40, stone.per = "ton", stone.cost = 313;
  job::TakeoffLine cap;
  cap.group = "fittings", cap.item = "=end cap", cap.net = cap.ordered = 2;
  takeoff.lines = {stone, cap};
  takeoff.cost = 313;
  takeoff.without_price = 1;
  return takeoff;
}
} // namespace

TEST_CASE("the take-off is shown in the site's units") {
  site::Site site;
  site.units = "ft";
  CHECK(report::takeoff_rows(sample(), site)[0].ordered == "5.7 cu yd");
  CHECK(report::takeoff_rows(sample(), site)[0].weight == "7.8 tons, 1 load");
  site.units = "m";
  CHECK(report::takeoff_rows(sample(), site)[0].ordered == "4.3 m³");
  CHECK(report::takeoff_rows(sample(), site)[1].ordered == "2");
}

TEST_CASE("the sum names the lines that it leaves out") {
  const site::Site site;
  CHECK_THAT(report::takeoff_sentence(sample(), site), ContainsSubstring("$313.00 for the one line with"));
  CHECK(report::price_text("12.50", site) == "$12.50");
  site::Site abroad = site;
  abroad.ordering.currency = "EUR ";
  CHECK(report::price_text("12.50", abroad) == "EUR 12.50");
  CHECK_THAT(report::takeoff_sentence(sample(), site),
             ContainsSubstring("1 has none and is not in the sum."));
  job::Takeoff bare = sample();
  bare.without_price = 2;
  CHECK_THAT(report::takeoff_sentence(bare, site), ContainsSubstring("No prices"));
}

TEST_CASE("table and page carry every line, safe for a spreadsheet and a browser") {
  const site::Site site;
  const std::string csv = report::takeoff_csv(sample(), site);
  CHECK_THAT(csv, ContainsSubstring("stone,No. 57,5.2318,5.65035,yd3,7.8231,1,40,ton,313,$,8 % waste\n"));
  CHECK_THAT(csv, ContainsSubstring("'=end cap"));
  CHECK_THAT(csv, ContainsSubstring(",unit,weight_tons,"));
  site::Site metres;
  metres.units = "m";
  CHECK_THAT(report::takeoff_csv(sample(), metres),
             ContainsSubstring(",unit,mass_kg,") && ContainsSubstring("stone,No. 57,4,4.32,m3,7097,1,"));
  const std::string html = report::takeoff_html(sample(), site, "1.0");
  for (const char* piece : {"No. 57", "8 % waste", "Take-off: one"})
    CHECK_THAT(html, ContainsSubstring(piece));
  CHECK(report::takeoff_factors(sample()).size() == 1);
  CHECK(report::si_unit(job::Measure::time) == "s");
}

TEST_CASE("a sum of many items is told to the whole unit from a hundred on, a small one to the cent") {
  CHECK(report::sum_figure(877.6) == "878");
  CHECK(report::sum_figure(12345.6) == "12,346");
  CHECK(report::sum_figure(90.07) == "90.07");
  CHECK(report::sum_figure(-7.6) == "-7.60");
  CHECK(report::sum_figure(99.999) == "100");
  CHECK(report::sum_figure(0) == "0");
  CHECK(report::sum_figure(std::nan("")) == "\u2013");
}

TEST_CASE("hours of the crew are told to a tenth, so that hours times their rate are the cost beside them") {
  site::Site site;
  site.units = "ft";
  job::Takeoff takeoff;
  job::TakeoffLine crew;
  crew.group = "digging", crew.item = "crew", crew.measure = job::Measure::time;
  crew.net = crew.ordered = 1.5 * 3600, crew.price = 60, crew.per = "hour", crew.cost = 90;
  takeoff.lines = {crew};
  CHECK(report::takeoff_rows(takeoff, site)[0].ordered == "1.5 h");
  takeoff.lines[0].ordered = 2.5 * 3600;
  CHECK(report::takeoff_rows(takeoff, site)[0].ordered == "2.5 h");
}

TEST_CASE("notes are sentences, and a load is as large as it was given") {
  site::Site site;
  site.units = "ft";
  job::Takeoff takeoff = sample();
  takeoff.notes = {"sod is counted for trenches alone"};
  const std::string html = report::takeoff_html(takeoff, site, "1.0");
  CHECK_THAT(html, ContainsSubstring("<li>Sod is counted for trenches alone.</li>") &&
                       ContainsSubstring("a load is 10 cu yd."));
}

TEST_CASE("less than ten feet are told to a tenth, so that what is ordered is not less than what is laid") {
  site::Site site;
  site.units = "ft";
  job::Takeoff takeoff;
  job::TakeoffLine leader;
  leader.group = "pipe", leader.item = "leader", leader.measure = job::Measure::length;
  leader.net = 1.4 * 0.3048, leader.ordered = 1.47 * 0.3048;
  takeoff.lines = {leader};
  CHECK(report::takeoff_rows(takeoff, site)[0].net == "1.4 ft");
  CHECK(report::takeoff_rows(takeoff, site)[0].ordered == "1.5 ft");
  takeoff.lines[0].ordered = 9.96 * 0.3048;
  CHECK(report::takeoff_rows(takeoff, site)[0].ordered == "10 ft");
  takeoff.lines[0].measure = job::Measure::area;
  takeoff.lines[0].ordered = 4.44 * 0.3048 * 0.3048;
  CHECK(report::takeoff_rows(takeoff, site)[0].ordered == "4.4 ft\u00b2");
}
