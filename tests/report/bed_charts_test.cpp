#include "catch.hpp"

#include <lowspot/report/bed_charts.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

TEST_CASE("each bed is drawn once, with a line a design and both limits") {
  sample::PageMaker maker;
  const std::string html = bed_charts(maker.page());
  CHECK_THAT(html, ContainsSubstring("thirsty below") && ContainsSubstring("soggy above") &&
                       ContainsSubstring("line s0") && ContainsSubstring("line s1"));
  std::size_t figures = 0;
  for (std::size_t at = html.find("<figure>"); at != std::string::npos; at = html.find("<figure>", at + 1))
    ++figures;
  CHECK(figures == 1);
  CHECK(season_charts(maker.page()).empty());
}
