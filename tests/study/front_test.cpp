#include <lowspot/study/front.hpp>

#include "catch.hpp"

#include <lowspot/study/tune.hpp>

using namespace lowspot;

namespace {
std::vector<study::Tried> curve(const std::vector<std::pair<double, double>>& points) {
  std::vector<study::Tried> tried;
  for (const auto& [dig, hours] : points) {
    study::Tried one;
    one.candidate.works.dig = dig;
    one.full.emplace();
    one.full->standing_hours = {hours};
    tried.push_back(one);
  }
  return tried;
}
std::vector<int> front_of(const std::vector<study::Tried>& tried) {
  std::vector<int> front;
  for (std::size_t k = 0; k < tried.size(); ++k)
    if (tried[k].on_front) front.push_back(static_cast<int>(k));
  return front;
}
} // namespace

TEST_CASE("on the front is what no smaller one equals") {
  std::vector<study::Tried> tried = curve({{1, 40}, {2, 50}, {3, 20}, {4, 20}, {5, 19.9}, {6, 5}});
  study::mark_front(tried);
  CHECK(front_of(tried) == std::vector<int>{0, 2, 5});
  tried[2].full.reset(); // never run: nothing is known of it
  study::mark_front(tried);
  CHECK(front_of(tried) == std::vector<int>{0, 3, 5});
}

TEST_CASE("the bend of a curve that falls fast and then slowly, none of a straight one") {
  std::vector<study::Tried> bent = curve({{1, 40}, {2, 10}, {4, 8}, {9, 1}});
  study::mark_front(bent);
  CHECK(study::knee_of(bent) == 1);
  std::vector<study::Tried> straight = curve({{1, 40}, {2, 30}, {3, 20}, {4, 10}});
  study::mark_front(straight);
  CHECK(study::knee_of(straight) == -1);
  std::vector<study::Tried> two = curve({{1, 40}, {2, 1}});
  study::mark_front(two);
  CHECK(study::knee_of(two) == -1);
}

TEST_CASE("costs are an axis only where each combination has one and leaves out as many items") {
  std::vector<study::Tried> tried = curve({{1, 40}, {2, 10}, {4, 8}});
  CHECK_FALSE(study::priced_alike(tried));
  CHECK_FALSE(study::priced_alike({}));
  for (study::Tried& one : tried) one.candidate.works.cost = 100, one.candidate.works.without_price = 2;
  CHECK(study::priced_alike(tried));
  tried[1].candidate.works.without_price = 1;
  CHECK_FALSE(study::priced_alike(tried));
  tried[1].candidate.refused = "too deep"; // does not matter
  CHECK(study::priced_alike(tried));
  tried[2].candidate.works.cost = job::unpriced;
  CHECK_FALSE(study::priced_alike(tried));
}
