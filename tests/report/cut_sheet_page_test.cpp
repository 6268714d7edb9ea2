#include "catch.hpp"
#include "simple_yard.hpp"

#include <lowspot/report/cut_sheet_page.hpp>
#include <lowspot/report/units.hpp>

using namespace lowspot;

namespace {
struct Sheet {
  SimpleYard yard = simple_yard(40, 10, 0.5, [](double, double) { return 10.0; });
  job::CutSheet sheet;
  Sheet() {
    yard.site.name = "Yard <one>";
    site::Design design = simple_drain(yard, 0.5);
    design.name = "=sum(A1)";
    design.runs[0].name = "=run, \"west\"";
    sheet = job::make_cut_sheet(yard.site, design, yard.ground, 1.5);
  }
};
} // namespace

TEST_CASE("rod readings are what the instrument sees on the trench bottom, and none are made up without it") {
  const Sheet data;
  report::CutSheetPage page{data.yard.site, data.sheet, "1.0", job::RodUnit::millimetres};
  CHECK_THAT(report::cut_sheet_html(page), ContainsSubstring("print again with"));
  page.instrument = 11.5;
  const std::string html = report::cut_sheet_html(page);
  for (const job::CutStation& station : data.sheet.runs[0].stations)
    CHECK_THAT(html, ContainsSubstring(job::rod_text(11.5 - station.bottom, job::RodUnit::millimetres)));
  CHECK(html.find("Yard <one>") == std::string::npos);
}

TEST_CASE("the page tells the trench bottom, a width in inches, and no cut where the pipe is in the open") {
  Sheet data;
  data.yard.site.units = "ft";
  job::CutRun& run = data.sheet.runs[0];
  run.width = 11 * 0.0254;
  run.stations[0].ground = run.stations[0].bottom - 0.0159;
  const std::string html = report::cut_sheet_html({data.yard.site, data.sheet, "1.0"});
  CHECK_THAT(html, ContainsSubstring("Trench bottom, ft") && ContainsSubstring("Trench 11 in wide") &&
                       ContainsSubstring(report::fixed(run.stations[0].bottom / 0.3048, 2)) &&
                       ContainsSubstring(">none</td>") && !ContainsSubstring("-0'"));
}

TEST_CASE("the table for a spreadsheet has a row a station and no formulas") {
  const Sheet data;
  report::CutSheetPage page{data.yard.site, data.sheet, "1.0", job::RodUnit::eighths, 11.5};
  const std::string csv = report::cut_sheet_csv(page);
  CHECK(std::count(csv.begin(), csv.end(), '\n') ==
        static_cast<std::ptrdiff_t>(data.sheet.runs[0].stations.size()) + 1);
  CHECK(csv.find("\n=") == std::string::npos);
  CHECK_THAT(csv, ContainsSubstring("\"'=run, \"\"west\"\"\""));
}

TEST_CASE("what was dug is answered in the crew's units") {
  const job::DugCheck high{{"leg", 30 * 0.3048, 0, 1}, 0, 0.375 * 0.0254, job::DugAnswer::dig_more};
  CHECK(report::dug_sentence(high, job::RodUnit::eighths, true) == "dig 3/8 in more at 0+30 of leg");
  const job::DugCheck low{{"leg", 30 * 0.3048, 0, 1}, 0, -0.012, job::DugAnswer::fill};
  CHECK_THAT(report::dug_sentence(low, job::RodUnit::millimetres, false), ContainsSubstring("fill 12 mm"));
  const Sheet data;
  report::CutSheetPage page{data.yard.site, data.sheet, "1.0"};
  page.checks = {high};
  page.bellies = {{"leg", 3, 6, 0.0254, 0.001}};
  page.cost = "It costs an hour.";
  const std::string html = report::cut_sheet_html(page);
  for (const char* piece : {"dig 3/8 in more at", "1 in of water stays in the pipe", "It costs an hour."})
    CHECK_THAT(html, ContainsSubstring(piece));
}
TEST_CASE("a basin has its levels and rod readings on the sheet though there is no trench") {
  Sheet data;
  data.sheet.runs.clear();
  report::CutSheetPage page{data.yard.site, data.sheet, "1.0", job::RodUnit::millimetres, 11.5};
  page.works = {{"garden", "rain garden", "12 m2 at its rim", 10, 9.8}};
  const std::string html = report::cut_sheet_html(page);
  CHECK_THAT(html, ContainsSubstring("Begin where the water is to end") &&
                       !ContainsSubstring("Start at the outlet") && !ContainsSubstring("open trench"));
  for (const char* words : {"garden (rain garden)", "10.000", "9.800", "1500 mm", "1700 mm"})
    CHECK_THAT(html, ContainsSubstring(words));
}

TEST_CASE("regraded ground is as deep as its deepest cut, not as its fall; a bank has a dash") {
  Sheet data;
  report::CutSheetPage page{data.yard.site, data.sheet, "1.0", job::RodUnit::millimetres};
  const double none = std::numeric_limits<double>::quiet_NaN();
  page.works = {{"way", "swale", "bed", 9.93, 9.4, 0.125, true},
                {"bank", "berm", "crest", 10.4, 10.1, none, true}};
  const std::string html = report::cut_sheet_html(page);
  CHECK_THAT(html, ContainsSubstring(">125 mm<") && !ContainsSubstring(">530 mm<") &&
                       !ContainsSubstring(">300 mm<") && ContainsSubstring(">9.400<"));
  CHECK_THAT(report::cut_sheet_csv(page), ContainsSubstring("\nway,,,9.9300,,9.4000,0.1250,"));
}

TEST_CASE("the table for a spreadsheet is in the units of the yard, pits and basins after the runs") {
  Sheet data;
  report::CutSheetPage page{data.yard.site, data.sheet, "1.0", job::RodUnit::tenths, 11.5};
  page.works = {{"garden", "rain garden", "12 m2, at its rim", 10, 9.8}};
  CHECK_THAT(report::cut_sheet_csv(page), ContainsSubstring("run,station,from_head_m,ground_m,") &&
                                              ContainsSubstring("\ngarden,,,10.0000,,9.8000,0.2000,") &&
                                              ContainsSubstring("\"rain garden: 12 m2, at its rim\""));
  data.yard.site.units = "ft";
  CHECK_THAT(report::cut_sheet_csv(page),
             ContainsSubstring("run,station,from_head_ft,ground_ft,invert_ft,") &&
                 ContainsSubstring(",32.8084,,32.1522,"));
}

TEST_CASE("the sheet warns of a pit that is deeper than its trenches") {
  Sheet data;
  site::Design design;
  design.name = data.sheet.design;
  site::Outlet pit;
  pit.kind = "dry well";
  pit.well.depth = 1.6;
  design.outlets = {pit};
  data.yard.site.designs = {design};
  const report::CutSheetPage page{data.yard.site, data.sheet, "1.0"};
  CHECK_THAT(report::cut_sheet_html(page), ContainsSubstring("protective system"));
  data.yard.site.designs[0].outlets[0].well.depth = 1.2191; // a hair less than 4 ft
  CHECK_THAT(report::cut_sheet_html(page), !ContainsSubstring("a ladder or ramp within"));
  data.yard.site.designs[0].outlets[0].well.depth = 4 * 0.3048;
  CHECK_THAT(report::cut_sheet_html(page), ContainsSubstring("a ladder or ramp within"));
}

TEST_CASE("what may hurt stands before the tables, and a phone shows cut and rod") {
  const Sheet data;
  const std::string html = report::cut_sheet_html({data.yard.site, data.sheet, "1.0"});
  CHECK(html.find("Utilities located") < html.find("Station"));
  CHECK(html.find("Start at the outlet") < html.find("Station"));
  CHECK_THAT(html, ContainsSubstring(".run :is(th,td):is(:nth-child(2),:nth-child(3)){display:none}"));
}

TEST_CASE("a long run is parted over sheets, a short one is not; notes are sentences") {
  Sheet data;
  job::CutRun& run = data.sheet.runs[0];
  run.stations.resize(6, run.stations.back());
  data.sheet.warnings = {"the pipe that leads there is ordered"};
  const report::CutSheetPage page{data.yard.site, data.sheet, "1.0"};
  CHECK_THAT(report::cut_sheet_html(page),
             ContainsSubstring("<section class=\"run\">") &&
                 ContainsSubstring("<li>The pipe that leads there is ordered.</li>"));
  run.stations.push_back(run.stations.back());
  CHECK_THAT(report::cut_sheet_html(page), ContainsSubstring("<section class=\"run long\">") &&
                                               ContainsSubstring(".run.long{break-inside:auto}"));
}

TEST_CASE("limits that the design does not keep stand before all that is dug") {
  const Sheet data;
  report::CutSheetPage page{data.yard.site, data.sheet, "1.0"};
  CHECK_THAT(report::cut_sheet_html(page), !ContainsSubstring("not kept"));
  results::CheckRecord check;
  check.name = "Trench beside a footing", check.found = "8 in", check.limit = "at least 12 in";
  page.not_kept = {check};
  const std::string html = report::cut_sheet_html(page);
  REQUIRE_THAT(html, ContainsSubstring("Trench beside a footing: 8 in (at least 12 in)."));
  CHECK(html.find("Trench beside a footing") < html.find("Utilities located"));
  // A sheet made without a run of the storm says what it has not looked at, for report.html may name more.
  CHECK_THAT(html, !ContainsSubstring("Limits that the storm decides"));
  page.without_run = true;
  CHECK_THAT(report::cut_sheet_html(page), ContainsSubstring("Limits that the storm decides"));
}

TEST_CASE("a trench is right where all of it was read, every reading is, and no water would stay in it") {
  const Sheet data;
  report::CutSheetPage page{data.yard.site, data.sheet, "1.0", job::RodUnit::millimetres, 11.5};
  const job::CutRun& run = data.sheet.runs[0];
  for (const job::CutStation& station : run.stations)
    page.checks.push_back({{run.name, station.station, station.bottom, 1}, station.bottom, 0});
  CHECK(report::dug_verdict(page) == "The trench is right: lay the pipe.");
  page.bellies = {{run.name, 3, 6, 0.0254, 0.001}};
  CHECK_FALSE(report::dug_right(page));
  CHECK_THAT(report::dug_verdict(page), ContainsSubstring("Not yet right ("));
  CHECK_THAT(report::cut_sheet_html(page),
             !ContainsSubstring("lay the pipe") && ContainsSubstring("A belly in"));
  page.bellies.clear();
  page.checks.resize(1);
  CHECK(report::dug_verdict(page) == "Right as far as it was read (1 of " +
                                         std::to_string(run.stations.size()) +
                                         " stations read): read the others, then lay the pipe.");
}

TEST_CASE("no rod is read below the bottom: where the instrument stands lower, that is said") {
  const Sheet data;
  const auto& stations = data.sheet.runs[0].stations;
  const double low = stations.front().bottom, high = stations.back().bottom;
  REQUIRE(high > low);
  report::CutSheetPage page{data.yard.site, data.sheet, "1.0", job::RodUnit::millimetres, 0.5 * (low + high)};
  CHECK(report::rod_reading(page, high) == "above HI");
  CHECK(report::rod_reading(page, low) == job::rod_text(0.5 * (high - low), job::RodUnit::millimetres));
  CHECK_THAT(report::cut_sheet_html(page), ContainsSubstring(">above HI</td>") && !ContainsSubstring(">-"));
  page.instrument = std::nan("");
  CHECK(report::rod_reading(page, low).empty());
}
