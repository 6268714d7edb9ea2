#include "catch.hpp"

#include <lowspot/report/page.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

TEST_CASE("the yard as it is has a colour of its own, designs share five") {
  CHECK(series_class(0) == 0);
  CHECK(series_class(1) == 1);
  CHECK(series_class(5) == 5);
  CHECK(series_class(6) == 1);
}

TEST_CASE("paper keeps the rows of the yard as it is and of the design that the verdict names") {
  sample::PageMaker maker;
  auto third = maker.comparison.designs[1];
  third.name = "another";
  maker.comparison.designs.push_back(third);
  const std::string as_is = maker.comparison.designs[0].name, chosen = maker.comparison.designs[1].name;
  const Table table{"rows", {"place", "design"}, {{"a", as_is}, {"b", chosen}, {"c", "another"}}, {}};
  maker.comparison.verdict.design = chosen;
  Table shortened = table;
  shorten_on_paper(maker.page(), 1, shortened);
  CHECK(shortened.screen_rows == std::vector<std::size_t>{2});
  CHECK_THAT(table_html(shortened), ContainsSubstring("<tr class=\"only-screen\"><th scope=\"row\">c"));
  // Where the yard does without, paper is about the design that is proposed first, as the sheets are.
  maker.comparison.verdict.design = as_is;
  CHECK(design_on_paper(maker.page()) == chosen);
  shortened = table;
  shorten_on_paper(maker.page(), 1, shortened);
  CHECK(shortened.screen_rows == std::vector<std::size_t>{2});
  maker.comparison.verdict.design = "none of them";
  CHECK(design_on_paper(maker.page()).empty());
  shortened = table;
  shorten_on_paper(maker.page(), 1, shortened);
  CHECK(shortened.screen_rows.empty());
}
