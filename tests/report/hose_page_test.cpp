#include "catch.hpp"

#include <lowspot/report/hose_page.hpp>

using namespace lowspot;

namespace {
study::HoseTest ran() {
  study::HoseTest test;
  test.design = "<i>drain</i>";
  test.flow = 3e-4, test.duration = 1200, test.first_water = 74, test.last_flow = 2.9e-4;
  test.outlet_stops = 1260, test.puddle_gone = 4;
  test.time = {0, 600, 1200, 2600, 86400};
  test.outlet_flow = {0, 2.9e-4, 2.9e-4, 0, 0};
  test.says = {"Water comes."};
  test.proves = {"The way is open."};
  return test;
}
} // namespace

TEST_CASE("the page of a hose test has what to expect, room for what was found, and names as typed") {
  site::Site site;
  site.name = "Yard";
  site.units = "m";
  const std::string html = report::hose_html(ran(), site, "0.1");
  CHECK_THAT(html, ContainsSubstring("Water comes.") && ContainsSubstring("The way is open.") &&
                       ContainsSubstring("&lt;i&gt;drain&lt;/i&gt;") && !ContainsSubstring("<i>drain"));
  for (const char* words : {"0.3 L/s for 20 min", ">80 s<", ">21 min<", ">at once<", ">found<", "<svg",
                            "shut after 20", "days since rain"})
    CHECK_THAT(html, ContainsSubstring(words));
}

TEST_CASE("where no water comes there is no curve, and where a hose tells nothing no figures to look for") {
  site::Site site;
  study::HoseTest test = ran();
  test.first_water = test.outlet_stops = std::nan("");
  test.last_flow = 0;
  test.outlet_flow.assign(test.time.size(), 0);
  std::string html = report::hose_html(test, site, "0.1");
  CHECK_THAT(html, !ContainsSubstring("<svg") && ContainsSubstring("not while it was watched"));
  test.outlets = {{"pit", std::nan(""), 0, true, false}};
  test.well = "pit", test.well_depth = 0.7;
  html = report::hose_html(test, site, "0.1");
  CHECK_THAT(html, !ContainsSubstring("first water") && ContainsSubstring("deepest water in pit"));
  test.takes_in = false;
  html = report::hose_html(test, site, "0.1");
  CHECK_THAT(html, !ContainsSubstring("What to expect"));
}

TEST_CASE("several outlets have a line each to fill in") {
  const site::Site site;
  study::HoseTest test = ran();
  test.outlets = {
      {"ditch", 74, 0.1, false}, {"pump pit", std::nan(""), 0, false}, {"soakaway", std::nan(""), 0, true}};
  const std::string html = report::hose_html(test, site, "0.1");
  for (const char* words : {"first water at ditch", "first water at pump pit",
                            "the outlet &#39;ditch&#39; stops", "Water at the outlets together"})
    CHECK_THAT(html, ContainsSubstring(words));
  CHECK_THAT(html, !ContainsSubstring("soakaway") && !ContainsSubstring("at the outlet<"));
}

TEST_CASE("at a pop-up the lid is what is watched") {
  const site::Site site;
  study::HoseTest test = ran();
  test.outlets = {{"lawn", 74, 0.1, false, true}};
  CHECK_THAT(report::hose_html(test, site, "0.1"), ContainsSubstring("first water at the lid of the outlet"));
}
