#include "catch.hpp"

#include <cmath>

#include <lowspot/report/levels_picture.hpp>

#include "report/picture.hpp"
#include "report/sample_levels.hpp"

using namespace lowspot;
using namespace lowspot::report;

TEST_CASE("classes of doubt cover the field, dark where it is greatest", "[levels_picture]") {
  for (const char* units : {"ft", "m"}) {
    const Scale scale = doubt_scale({0.003, 0.09, std::nan("")}, units_for(units));
    REQUIRE(scale.bounds.size() == scale.colors.size());
    REQUIRE(scale.bounds.size() >= 3);
    for (std::size_t k = 1; k < scale.colors.size(); ++k)
      CHECK(lightness(scale.colors[k]) < lightness(scale.colors[k - 1]));
    CHECK(class_of(scale, 0.09 / scale.unit_si) == static_cast<int>(scale.bounds.size()) - 1);
  }
  CHECK(doubt_scale({}, units_for("ft")).bounds.size() == 3);
}

TEST_CASE("a point that was read twice is named once") {
  terrain::LevelReview review;
  terrain::Shot first, again, other;
  first.name = again.name = "BM";
  other.name = "TP";
  other.at = first.at;
  review.book.shots = {first, again, other};
  CHECK(shots_to_name(review).size() == 2);
  review.book.shots[1].at.x += 1; // another place of the same name
  CHECK(shots_to_name(review).size() == 3);
}

TEST_CASE("the picture is drawn, rings what looks wrong and is written whole", "[levels_picture]") {
  const site::Site site = sample::levels_site("p.csv");
  const terrain::LevelReview review = terrain::review_levels(site);
  REQUIRE(review.check.shots.size() == 1);
  const Size size = levels_sheet_size(review, site);
  CHECK(size.width > 400);
  const sample::Pixels pixels =
      sample::decode(png(size, 1, true, [&](cairo_t* context) { draw_levels_sheet(context, review, site); }));
  REQUIRE(pixels.width >= static_cast<int>(size.width));
  // The ring's own colour stands nowhere else than at the ring and its name.
  int ring = 0;
  for (std::uint32_t argb : pixels.argb) {
    const int r = static_cast<int>(argb >> 16 & 255), g = static_cast<int>(argb >> 8 & 255),
              b = static_cast<int>(argb & 255);
    ring += r > 120 && g < 40 && b > 40 && b < 160;
  }
  CHECK(ring > 20);
  const std::filesystem::path folder = site.folder / "out";
  std::filesystem::remove_all(folder);
  write_levels(review, site, folder);
  for (const char* name : {"levels.png", "levels.pdf", "levels_reduced.csv"})
    CHECK(std::filesystem::file_size(folder / name) > 500);
}
