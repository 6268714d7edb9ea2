#include "catch.hpp"

#include <nlohmann/json.hpp>

#include <lowspot/report/sections.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

namespace {
nlohmann::json data_of(const std::string& html) {
  const std::string mark = "id=\"swipe-data\">";
  const auto from = html.find(mark) + mark.size();
  return nlohmann::json::parse(html.substr(from, html.find("</script>", from) - from));
}
} // namespace

TEST_CASE("every design can be put on either side, under its name as typed") {
  sample::PageMaker maker;
  auto third = maker.comparison.designs[1];
  third.name = "</script><b>\"\u00e9\" & '\U0001F33F'";
  maker.comparison.designs.push_back(third);
  const std::string html = section("swipe").html(maker.page());
  const auto data = data_of(html);
  REQUIRE(data["designs"].size() == 3);
  CHECK(data["designs"][2]["name"] == third.name);
  for (const auto& design : data["designs"]) {
    CHECK(design["water"].size() == 3);
    CHECK_THAT(design["works"].get<std::string>(), ContainsSubstring("data:image/png;base64,"));
  }
  CHECK(html.find("<b>\"") == std::string::npos);
  for (const char* part :
       {"aria-label=\"Where the left map", "<label>Left", "<label>Right", "swipe-legend-2"})
    CHECK_THAT(html, ContainsSubstring(part));
  // The recommended design is on the right as the page opens.
  CHECK_THAT(html, ContainsSubstring("<option value=\"1\" selected>3 in along the patio"));
}

TEST_CASE("there is nothing to swipe without a design, and dry yards draw no water") {
  sample::PageMaker maker;
  for (auto& design : maker.comparison.designs)
    for (auto* field : {&design.max_depth, &design.standing_hours, &design.perched_max})
      field->assign(field->size(), 0.0);
  const auto data = data_of(section("swipe").html(maker.page()));
  CHECK(data["designs"][0]["water"][0] == data["designs"][1]["water"][0]);
  CHECK_FALSE(data["designs"][1].contains("ground"));
  maker.comparison.designs.resize(1);
  CHECK(section("swipe").html(maker.page()).empty());
}

TEST_CASE("a design that shapes the ground shows its own under its side") {
  sample::PageMaker maker;
  auto& own = maker.comparison.designs[1].own_elevation = maker.comparison.elevation;
  for (std::size_t cell = 0; cell < own.size(); cell += 7) own[cell] -= 0.2;
  const std::string html = section("swipe").html(maker.page());
  const auto data = data_of(html);
  CHECK_FALSE(data["designs"][0].contains("ground"));
  const std::string ground = data["designs"][1]["ground"];
  CHECK_THAT(ground, ContainsSubstring("data:image/png;base64,"));
  CHECK(html.find("<img alt=\"\" class=\"swipe-ground\" src=\"" + ground) ==
        std::string::npos); // that of the yard
  CHECK_THAT(html, ContainsSubstring("id=\"swipe-left-ground\" hidden") &&
                       ContainsSubstring("id=\"swipe-right-ground\" hidden"));
}
