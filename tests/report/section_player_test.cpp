#include "catch.hpp"

#include <lowspot/report/sections.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

TEST_CASE("the player has a labelled slider over all frames and pictures for every design") {
  const sample::PageMaker maker;
  const std::string html = section("player").html(maker.page());
  const auto last = std::to_string(maker.comparison.designs[0].frames.size() - 1);
  CHECK_THAT(html,
             ContainsSubstring("<label for=\"player-slider\">") && ContainsSubstring("max=\"" + last + "\""));
  std::size_t canvases = 0;
  for (auto at = html.find("<canvas"); at != std::string::npos; at = html.find("<canvas", at + 1)) ++canvases;
  CHECK(canvases == 2);
  CHECK_THAT(html, ContainsSubstring("\"1 h into the storm, raining 0.26 in/hr\"") &&
                       ContainsSubstring("\"6 h after the rain\"") &&
                       ContainsSubstring("\"no water standing\""));
}

TEST_CASE("without frames there is nothing to play") {
  sample::PageMaker maker;
  for (auto& design : maker.comparison.designs) design.frames.clear();
  CHECK(section("player").html(maker.page()).empty());
}

TEST_CASE("a design that shapes the ground is played over its own") {
  sample::PageMaker maker;
  const auto grounds = [&] {
    const std::string html = section("player").html(maker.page());
    const std::string mark = "<div class=\"stack paper\"><img alt=\"\" src=\"";
    std::vector<std::string> found;
    for (auto at = html.find(mark); at != std::string::npos; at = html.find(mark, at + 1))
      found.push_back(html.substr(at + mark.size(), html.find('"', at + mark.size()) - at - mark.size()));
    return found;
  };
  const auto same = grounds();
  REQUIRE(same.size() == 2);
  CHECK(same[0] == same[1]);
  auto& own = maker.comparison.designs[1].own_elevation = maker.comparison.elevation;
  for (std::size_t cell = 0; cell < own.size(); cell += 7) own[cell] -= 0.2;
  const auto now = grounds();
  CHECK(now[0] == same[0]);
  CHECK(now[1] != same[1]);
}
