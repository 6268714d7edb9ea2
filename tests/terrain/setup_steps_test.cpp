#include "catch.hpp"

#include <cmath>

#include <lowspot/terrain/setup_steps.hpp>

#include "planted.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
// The book of a planted yard as text: set-up 1 shoots the first `turn` shots, set-up 2 the rest, closing on
// the benchmark when asked. From shot `bump` on everything is read `by` [ft] too small, up to the end of
// set-up 2.
LevelBook booked(unsigned seed, std::size_t turn, std::size_t bump, double by, bool closed) {
  const PlantedYard yard = shot_yard(seed);
  std::string text = "point,x,y,backsight,intermediate,foresight,note\nBM,,,4.32,,,BM 100.00\n";
  char line[128];
  for (std::size_t k = 0; k < yard.x.size(); ++k) {
    if (k == turn) text += "TP1,,,5.50,,4.20,\n"; // set-up 2 stands 1.30 ft higher
    const double reading = yard.reading[k] + (k >= turn ? 1.30 : 0) - (k >= bump ? by : 0);
    std::snprintf(line, sizeof line, "%s,%.1f,%.1f,,%.2f,,\n", yard.names[k].c_str(), yard.x[k], yard.y[k],
                  reading);
    text += line;
  }
  if (closed) {
    std::snprintf(line, sizeof line, "BM,,,,,%.2f,\n", 5.62 - by);
    text += line;
  }
  return reduce_levels(parse_csv(text, "levels.csv"), {});
}
} // namespace

TEST_CASE("books without a bump show no step, whether they close or not", "[setup_steps]") {
  for (unsigned seed = 1; seed <= 12; ++seed)
    for (bool closed : {true, false}) CHECK(find_setup_steps(booked(seed, 60, 999, 0, closed)).empty());
}

TEST_CASE("a bump inside a set-up is placed within a few readings, by the misclosure it makes",
          "[setup_steps]") {
  int found = 0, near = 0;
  for (unsigned seed = 1; seed <= 12; ++seed) {
    const LevelBook book = booked(seed, 60, 90, 0.25, true);
    REQUIRE(book.closures.size() == 1);
    CHECK_THAT(book.closures[0].misclosure, WithinAbs(0.25 * 0.3048, 1e-9));
    const auto steps = find_setup_steps(book);
    if (steps.empty()) continue;
    ++found;
    CHECK_THAT(steps[0].step, WithinAbs(0.25 * 0.3048, 1e-9));
    near += std::abs(steps[0].line - (90 + 4)) <= 11; // header, benchmark, turning point
  }
  WARN("bumps: found " << found << " of 12, placed within a row of 11 " << near);
  CHECK(found >= 8);
  CHECK(near >= 6);
}

TEST_CASE("a whole set-up that is off is seen as such", "[setup_steps]") {
  int start = 0;
  for (unsigned seed = 1; seed <= 12; ++seed) {
    const auto steps = find_setup_steps(booked(seed, 66, 66, 0.5, true));
    for (const SetupStep& step : steps) start += step.setup == 2 && std::abs(step.line - (66 + 3)) <= 4;
  }
  WARN("wrong turning points: found " << start << " of 12");
  CHECK(start >= 9);
}

TEST_CASE("a book that nothing closes still shows a large step", "[setup_steps]") {
  int found = 0;
  for (unsigned seed = 1; seed <= 12; ++seed) {
    const auto steps = find_setup_steps(booked(seed, 66, 66, 1, false));
    if (!steps.empty() && std::abs(steps[0].step - 0.3048) < 0.03) ++found;
  }
  WARN("open books: found " << found << " of 12");
  CHECK(found >= 9);
}

TEST_CASE("reduced levels and small books have no set-ups to doubt", "[setup_steps]") {
  CHECK(find_setup_steps({}).empty());
  CHECK(find_setup_steps(
            reduce_levels(
                parse_csv("point,x,y,backsight,intermediate\nBM,,,4,\na,0,0,,5\nb,4,0,,5\nc,0,4,,6\n", "l"),
                {}))
            .empty());
}

TEST_CASE("a misclosure is not explained by what was read before its chain began", "[setup_steps]") {
  for (unsigned seed = 1; seed <= 6; ++seed) {
    const PlantedYard yard = shot_yard(seed);
    std::string text = "point,x,y,backsight,intermediate,foresight,note\nBM,,,4.32,,,BM 100.00\n";
    char line[128];
    for (std::size_t k = 0; k < yard.x.size(); ++k) {
      if (k == 90) text += "BM,,,4.32,,,\n"; // begun afresh; a bump before it, and a misread closing shot
      std::snprintf(line, sizeof line, "%s,%.1f,%.1f,,%.2f,,\n", yard.names[k].c_str(), yard.x[k], yard.y[k],
                    yard.reading[k] - (k >= 45 && k < 90 ? 0.5 : 0));
      text += line;
    }
    text += "BM,,,,,3.82,\n";
    const LevelBook book = reduce_levels(parse_csv(text, "levels.csv"), {});
    REQUIRE(book.closures.size() == 1);
    CHECK(book.closures[0].from_setup == 2);
    for (const SetupStep& step : find_setup_steps(book)) CHECK(step.setup == 2);
  }
}
