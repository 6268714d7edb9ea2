#include "catch.hpp"

#include <lowspot/report/map_works.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

TEST_CASE("a design's works are found by name, the yard as it is has none") {
  const auto site = sample::site();
  const auto all = sample::comparison();
  CHECK(works_of(site, all.designs[0]) == nullptr);
  CHECK(works_of(site, all.designs[1]) == &site.designs[0]);
}

TEST_CASE("a run says its size, whether it takes water in, and how it falls") {
  const auto site = sample::site();
  auto record = sample::comparison().designs[1];
  CHECK(run_text(site.designs[0].runs[0], record, units_for("ft")) == "west leg: 3 in slotted, falls 1 %");
  CHECK(run_text(site.designs[0].runs[1], record, units_for("m")) == "carrier: 3 in solid, falls 2 %");
  CHECK(pipe_size_text({"80 mm pipe, own figures", 0.0804}, units_for("m")) == "80 mm");
  CHECK(pipe_size_text({"own", 0.103}, units_for("ft")) == "4 in");
  // Where it falls least, 0.1 m in 10 m: what its full pipe is reckoned with.
  record.profiles.resize(1);
  record.profiles[0].run = "west leg";
  record.profiles[0].distance = {0, 5, 15};
  record.profiles[0].invert = {2, 1, 0.9};
  CHECK_THAT(fall_of(site.designs[0].runs[0], record), WithinAbs(0.01, 1e-12));
  record.profiles.clear(); // as designed
  CHECK(fall_of(site.designs[0].runs[0], record) == site.designs[0].runs[0].fall);
}

TEST_CASE("pipes are drawn where they lie") {
  const auto site = sample::site();
  const MapView view{sample::grid(), 0, 0, 30};
  const auto pixels = sample::decode(png({view.width(), view.height()}, 1, true, [&](cairo_t* context) {
    draw_works(context, view, site.designs[0]);
  }));
  const auto middle = view.at({24 * sample::foot, 5 * sample::foot});
  const int x = static_cast<int>(middle.x), y = static_cast<int>(middle.y);
  CHECK(pixels.inked(x - 1, y - 20, x + 1, y + 20) > 0.9);
  CHECK(pixels.inked(x + 40, y - 20, x + 80, y + 20) == 0);
}

TEST_CASE("names of runs and outlets get places near them") {
  const auto site = sample::site();
  const auto all = sample::comparison();
  const MapView view{sample::grid(), 0, 0, 30};
  png({10, 10}, 1, true, [&](cairo_t* context) {
    std::vector<Label> labels;
    std::vector<Obstacle> obstacles;
    label_works(context, view, site.designs[0], all.designs[1], units_for("ft"), labels, obstacles);
    CHECK(labels.size() == 3);
    CHECK(labels[0].text == "fence outlet (daylight)");
    CHECK(place_labels(labels, obstacles, view.frame()).size() == 3);
    CHECK(labels[1].text == "west leg: 3 in slotted, falls 1 %");
    auto plain = site.designs[0]; // named for what it is
    plain.outlets[0].name = "daylight";
    std::vector<Label> plain_labels;
    label_works(context, view, plain, all.designs[1], units_for("ft"), plain_labels, obstacles);
    CHECK(plain_labels[0].text == "daylight");
    const MapView small{sample::grid(), 0, 0, 8}; // too narrow for all that is said of a run
    std::vector<Label> short_labels;
    label_works(context, small, site.designs[0], all.designs[1], units_for("ft"), short_labels, obstacles);
    CHECK(short_labels[1].text == "west leg");
  });
}

TEST_CASE("on a narrow drawing the outlet still has its name, shortened if it must be") {
  const auto site = sample::site();
  const auto all = sample::comparison();
  MapView narrow{sample::grid(), 0, 0, 3};
  png({10, 10}, 1, true, [&](cairo_t* context) {
    const auto placed = [&] {
      std::vector<Label> labels;
      std::vector<Obstacle> obstacles;
      label_works(context, narrow, site.designs[0], all.designs[1], units_for("ft"), labels, obstacles);
      return place_labels(labels, obstacles, narrow.frame_of_names());
    };
    REQUIRE_FALSE(placed().empty());
    CHECK(placed()[0].text.rfind("fence", 0) == 0);
    CHECK(placed()[0].text.size() < std::string("fence outlet (daylight)").size());
    narrow.beside = 150; // paper beside the yard
    REQUIRE_FALSE(placed().empty());
    CHECK(placed()[0].text == "fence outlet (daylight)");
  });
}
