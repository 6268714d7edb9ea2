// How often planted errors are found, and how often nothing is found where nothing is: stated in
// libsim/terrain/README.md from this file.
#include "catch.hpp"
#include "figures.hpp"

#include <cmath>
#include <functional>

#include <lowspot/terrain/blunders.hpp>

#include "planted.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
constexpr unsigned yards = 40;

std::vector<Suspicion> search(const PlantedYard& yard) {
  const LevelBook book = book_of(yard);
  return find_blunders(gather_survey(book, yard.site), book, yard.site);
}

struct Rate {
  int planted = 0, found = 0, first = 0, named = 0, others = 0;
};
// Plants one error a yard on a shot of its own choosing and counts. `plant` returns false where there is none
// to plant.
Rate rate(const std::string& cause,
          const std::function<bool(PlantedYard&, std::size_t, std::mt19937&)>& plant) {
  Rate result;
  for (unsigned seed = 1; seed <= yards; ++seed) {
    PlantedYard yard = shot_yard(seed);
    std::mt19937 random(seed * 77 + 1);
    const std::size_t k = random() % 121;
    if (!plant(yard, k, random)) continue;
    ++result.planted;
    const auto list = search(yard);
    for (std::size_t n = 0; n < list.size(); ++n) {
      if (list[n].line != static_cast<int>(k) + 2) {
        ++result.others;
        continue;
      }
      ++result.found;
      result.first += n == 0;
      result.named += list[n].cause == cause;
    }
  }
  INFO(cause << ": planted " << result.planted << ", found " << result.found << ", first " << result.first
             << ", named " << result.named << ", others " << result.others);
  CHECK(result.planted > 0);
  figures::row("terrain", "blunders",
               {cause, std::to_string(result.planted), std::to_string(result.found),
                std::to_string(result.first), std::to_string(result.named)});
  return result;
}
} // namespace

TEST_CASE("clean books of yards with patios, steps and swales raise few alarms", "[blunders]") {
  int alarms = 0, shots = 0;
  for (unsigned seed = 1; seed <= yards; ++seed) {
    const PlantedYard yard = shot_yard(seed);
    alarms += static_cast<int>(search(yard).size());
    shots += static_cast<int>(yard.x.size());
  }
  figures::row("terrain", "blunders",
               {"none (clean books)", "0",
                std::to_string(alarms) + " false alarms in " + std::to_string(shots) + " shots", "", ""});
  CHECK(alarms <= shots / 500); // 2 in a thousand
}

TEST_CASE("a slip of a foot or of ten feet is found, first and by its name", "[blunders]") {
  Rate r = rate("a slip of a whole foot", [](PlantedYard& yard, std::size_t k, std::mt19937& random) {
    yard.reading[k] += random() % 2 ? 1 : -1;
    return true;
  });
  CHECK(r.found >= 0.85 * r.planted);
  CHECK(r.first >= 0.85 * r.planted);
  CHECK(r.named >= 0.6 * r.planted);
  r = rate("a slip of ten feet", [](PlantedYard& yard, std::size_t k, std::mt19937&) {
    yard.reading[k] += 10;
    return true;
  });
  CHECK(r.found == r.planted);
  CHECK(r.first == r.planted);
  CHECK(r.named >= 0.85 * r.planted);
}

TEST_CASE("half a foot is as high as many a step: found where the ground is plain", "[blunders]") {
  const Rate r = rate("a slip of half a foot", [](PlantedYard& yard, std::size_t k, std::mt19937& random) {
    yard.reading[k] += random() % 2 ? 0.5 : -0.5;
    return true;
  });
  CHECK(r.found >= 0.3 * r.planted);
  CHECK(r.first == r.found);
}

TEST_CASE("digits that changed places are found where they matter", "[blunders]") {
  const Rate r = rate("two digits changed places", [](PlantedYard& yard, std::size_t k, std::mt19937&) {
    const int hundredths = static_cast<int>(std::lround(100 * yard.reading[k]));
    const int tenth = hundredths / 10 % 10, last = hundredths % 10;
    if (std::abs(tenth - last) < 4) return false; // under 0.36 ft: hidden in the relief
    yard.reading[k] = (hundredths / 100 * 100 + last * 10 + tenth) / 100.0;
    return true;
  });
  CHECK(r.found >= 0.5 * r.planted);
  CHECK(r.named >= 0.35 * r.planted);
}

TEST_CASE("inches written as tenths are found where they matter", "[blunders]") {
  const Rate r = rate("inches written as tenths", [](PlantedYard& yard, std::size_t k, std::mt19937&) {
    const double feet = std::floor(yard.reading[k]);
    const int inches = static_cast<int>(std::lround(12 * (yard.reading[k] - feet)));
    if (inches < 10 || inches > 11) return false; // 4.10 for 4' 10": out by 0.7 ft
    yard.reading[k] = feet + inches / 100.0;
    return true;
  });
  CHECK(r.found >= 0.7 * r.planted);
}

TEST_CASE("x and y that changed places are found, on the yard and off it", "[blunders]") {
  const Rate r = rate("x and y changed places", [](PlantedYard& yard, std::size_t k, std::mt19937&) {
    if (std::abs(yard.x[k] - yard.y[k]) < 12) return false;
    std::swap(yard.x[k], yard.y[k]);
    return true;
  });
  CHECK(r.found >= 0.85 * r.planted);
  CHECK(r.named >= 0.6 * r.planted);
  PlantedYard narrow = shot_yard(4);
  narrow.site.outline = rectangle(0, 0, 61 * planted_foot, 32 * planted_foot);
  for (std::size_t k = narrow.x.size(); k-- > 0;)
    if (narrow.y[k] > 32) {
      for (auto* list : {&narrow.x, &narrow.y, &narrow.reading})
        list->erase(list->begin() + static_cast<std::ptrdiff_t>(k));
      narrow.names.erase(narrow.names.begin() + static_cast<std::ptrdiff_t>(k));
    }
  std::size_t far = 0;
  while (narrow.x[far] < 45 || narrow.y[far] < 8) ++far;
  std::swap(narrow.x[far], narrow.y[far]);
  const auto list = search(narrow);
  REQUIRE_FALSE(list.empty());
  CHECK(list[0].kind == SuspicionKind::swapped_place);
  CHECK(list[0].line == static_cast<int>(far) + 2);
  CHECK_THAT(list[0].mended_at.x, WithinAbs(narrow.y[far] * planted_foot, 1e-9));
}

TEST_CASE("one point with two elevations: both lines, and which its neighbours believe", "[blunders]") {
  int right = 0, found = 0;
  for (unsigned seed = 1; seed <= yards; ++seed) {
    PlantedYard yard = shot_yard(seed);
    const std::size_t k = 12 + seed;
    yard.x.push_back(yard.x[k]);
    yard.y.push_back(yard.y[k]);
    yard.names.push_back(yard.names[k]);
    yard.reading.push_back(yard.reading[k] + 0.3);
    for (const Suspicion& s : search(yard)) {
      if (s.kind != SuspicionKind::two_elevations) continue;
      ++found;
      CHECK(s.line + s.other_line == static_cast<int>(k + 2 + yard.x.size() + 1));
      right += s.line > s.other_line;
    }
  }
  CHECK(found == static_cast<int>(yards));
  figures::row("terrain", "blunders",
               {"one point with two elevations, 0.3 ft apart", std::to_string(yards), std::to_string(found),
                "", std::to_string(right) + " believed the right one"});
  CHECK(right >= 0.75 * yards);
}

TEST_CASE("a few shots, or none, say nothing of each other", "[blunders]") {
  const site::Site site = plain_site(rectangle(0, 0, 10, 10), 1);
  LevelBook book;
  CHECK(find_blunders({}, book, site).empty());
  for (int k = 0; k < 3; ++k) {
    Shot shot;
    shot.name = "p" + std::to_string(k);
    shot.at = {3.0 * k, k == 1 ? 4.0 : 0.0, 10.0 + k};
    shot.line = k + 2;
    book.shots.push_back(shot);
  }
  CHECK(find_blunders(gather_survey(book, site), book, site).empty());
}
