#include "catch.hpp"

#include <lowspot/report/band_chart.hpp>

#include "report/picture.hpp"
#include "report/sample_plausible.hpp"

using namespace lowspot;

TEST_CASE("a bar a place and design, on one scale, with the target; nothing where nothing stands") {
  sample::PageMaker maker;
  results::PlausibleStudy study = sample::plausible(maker.comparison);
  const std::string svg = report::band_chart(maker.page(), study);
  std::size_t bars = 0;
  for (std::size_t at = svg.find("class=\"band"); at != std::string::npos;
       at = svg.find("class=\"band", at + 1))
    ++bars;
  CHECK(bars == study.designs.size());
  CHECK_THAT(svg, ContainsSubstring("target") && ContainsSubstring("long bed, as is") &&
                      ContainsSubstring("\u2192"));
  for (results::PlausibleFigure& figure : study.figures) // a name of a usual length stands in full
    if (figure.place == "long bed") figure.place = "long bed below the patio of the house";
  CHECK_THAT(report::band_chart(maker.page(), study),
             ContainsSubstring("long bed below the patio of the house, as is<"));
  CHECK_THAT(svg, !ContainsSubstring("nan") && !ContainsSubstring("inf"));
  for (results::PlausibleFigure& figure : study.figures) figure.p90 = 0.7, figure.open_ended = true;
  CHECK_THAT(report::band_chart(maker.page(), study), ContainsSubstring("to still standing at the end"));
  for (results::PlausibleFigure& figure : study.figures) figure.p10 = figure.p50 = figure.p90 = 0;
  CHECK(report::band_chart(maker.page(), study).empty());
}
