#include "catch.hpp"

#include <lowspot/report/sections.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

TEST_CASE("the maps travel in the page and say in words what they show") {
  const sample::PageMaker maker;
  const std::string html = section("maps").html(maker.page());
  CHECK_THAT(html, ContainsSubstring("src=\"data:image/png;base64,YmVmb3Jl\"")); // "before"
  // Paper has no room to show both rows at a size that can be read.
  CHECK_THAT(html, ContainsSubstring("class=\"only-screen\" alt=") &&
                       ContainsSubstring("class=\"only-paper\" alt="));
  CHECK_THAT(html, ContainsSubstring("as is: long bed stands 48 h after the rain"));
}
