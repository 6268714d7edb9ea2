#include "catch.hpp"

#include <algorithm>
#include <set>

#include <lowspot/report/sections.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

namespace {
std::size_t count(const std::string& text, const std::string& word) {
  std::size_t found = 0;
  for (auto at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) ++found;
  return found;
}
} // namespace

TEST_CASE("the page holds every section under one main head and needs no network") {
  const sample::PageMaker maker;
  const std::string html = report_html(maker.page());
  CHECK(html.find("http:") == std::string::npos);
  CHECK(html.find("https:") == std::string::npos);
  CHECK(html.find("src=\"//") == std::string::npos);
  CHECK(count(html, "<h1") == 1);
  CHECK(count(html, "<html lang=\"en\">") == 1);
  CHECK_THAT(html, ContainsSubstring("default-src 'none'"));
  // A section with nothing to say is left out, heading and all.
  std::size_t written = 0;
  for (const Section& each : sections()) {
    const bool speaks = !each.html(maker.page()).empty();
    written += speaks;
    CHECK(count(html, "id=\"" + each.id + "\"") == speaks);
  }
  CHECK(count(html, "<section") == written);
  CHECK(html.find("3-inch is enough") < html.find("<nav"));
}

TEST_CASE("by which method, and what computed it, is said before anything else") {
  sample::PageMaker maker;
  maker.comparison.method = "routed";
  const std::string html = report_html(maker.page());
  const std::size_t said = html.find("Water on the ground by the routed method, computed by lowspot 0.1.0.");
  CHECK(said < html.find("<main>"));
}

TEST_CASE("ids are used once, and what is pointed at is there") {
  const sample::PageMaker maker;
  const std::string html = report_html(maker.page());
  std::set<std::string> ids;
  for (auto at = html.find(" id=\""); at != std::string::npos; at = html.find(" id=\"", at + 1)) {
    const std::string id = html.substr(at + 5, html.find('"', at + 5) - at - 5);
    INFO(id);
    CHECK(ids.insert(id).second);
  }
  for (auto at = html.find("href=\"#"); at != std::string::npos; at = html.find("href=\"#", at + 1))
    CHECK(ids.count(html.substr(at + 7, html.find('"', at + 7) - at - 7)) == 1);
}

TEST_CASE("no name from the site becomes markup") {
  sample::PageMaker maker;
  const std::string evil = "\"><img src=x onerror=alert(1)>'</script><!--";
  auto& all = maker.comparison;
  all.site_name = all.version = all.verdict.sentence = all.verdict.limited_by = evil;
  all.warnings = {evil};
  all.defaults = {{evil, evil, evil}};
  for (auto& design : all.designs) {
    design.name = evil;
    for (auto& area : design.areas) area.name = evil;
    for (auto& gauge : design.gauges) gauge.name = evil;
    for (auto* flows : {&design.lines, &design.edges})
      for (auto& flow : *flows) flow.name = evil;
    for (auto& drain : design.drains) drain.name = drain.limited_by = evil;
    for (auto& bed : design.beds) bed.name = evil;
    for (auto& profile : design.profiles) profile.run = evil;
    for (auto& series : design.series)
      series.name = series.name.substr(0, series.name.find(':') + 1) + evil + "_m";
  }
  for (auto& area : maker.site.areas) area.name = evil;
  for (auto& design : maker.site.designs) {
    design.name = evil;
    for (auto& run : design.runs) run.name = run.pipe.name = run.stone.name = run.cap.name = evil;
  }
  const std::string html = report_html(maker.page());
  CHECK(html.find("<img src=x") == std::string::npos);
  CHECK(html.find("<!--") == std::string::npos);
  CHECK(count(html, "</script>") == 3); // data of the player and of the swiped map, and the script
}

TEST_CASE("what is long stays on the screen, and the print says so") {
  const sample::PageMaker maker;
  const std::string html = report_html(maker.page());
  CHECK_THAT(html, ContainsSubstring("<section class=\"only-screen\" id=\"balance\"") &&
                       ContainsSubstring("<section id=\"drains\"") &&
                       ContainsSubstring("<p class=\"quiet only-paper\">Not printed, but in report.html: ") &&
                       ContainsSubstring("Every drop accounted for"));
  // Before the sections, where it asks for no sheet of its own.
  CHECK(html.find("Not printed, but in") < html.find("<main>"));
}
