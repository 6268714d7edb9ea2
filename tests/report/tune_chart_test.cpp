#include <lowspot/report/tune_chart.hpp>

#include "catch.hpp"
#include "report/sample_tuning.hpp"

using namespace lowspot;

namespace {
std::size_t count(const std::string& text, const std::string& piece) {
  std::size_t times = 0;
  for (std::size_t at = text.find(piece); at != std::string::npos; at = text.find(piece, at + 1)) ++times;
  return times;
}
} // namespace

TEST_CASE("a point for each combination that was run, the answer named") {
  const std::string svg = report::tune_chart_svg(sample::site(), sample::tuning());
  CHECK(count(svg, "</title></circle>") + count(svg, "</title></path>") == 4);
  CHECK(count(svg, "class=\"spot works\"><title>") == 1);
  CHECK(count(svg, "class=\"spot quick\"><title>") == 1);
  CHECK_THAT(svg, ContainsSubstring("smallest that works") && ContainsSubstring("target") &&
                      ContainsSubstring("dug, cu yd") && !ContainsSubstring("nan"));
  // What fails is a cross, what works a disc, so that colours need not be told apart.
  CHECK(count(svg, "<path class=\"spot fails\"") == count(svg, "class=\"spot fails\""));
  CHECK(count(svg, "<path class=\"spot fails\"") >= 2);
  CHECK(count(svg, "<path class=\"spot works\"") == 0);
  study::Tuning nothing = sample::tuning();
  nothing.tried.resize(0);
  CHECK(report::tune_chart_svg(sample::site(), nothing).empty());
}
