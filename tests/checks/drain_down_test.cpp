#include <lowspot/checks/drain_down.hpp>

#include "round_yard.hpp"

using namespace lowspot;
using namespace lowspot::checks;

namespace {
constexpr double hour = 3600;

site::Design with_well() {
  site::Design design;
  site::Outlet well;
  well.name = "pit";
  well.kind = "dry well";
  well.well = {1.0, 4.0, 2.0, 0.5, 1e-6}; // a cubic metre of water fills it
  design.outlets = {well};
  return design;
}

// The well falls by the same amount every hour from full at the end of the rain, 6 h.
results::DesignRecord emptying_in(double hours, double simulated) {
  results::DesignRecord record;
  results::Series stored{"well:pit:stored_m3", {}};
  for (double t = 0; t <= simulated; t += 1) {
    record.time.push_back(t * hour);
    stored.values.push_back(t < 6 ? t / 6 : std::max(0.0, 1 - (t - 6) / hours));
  }
  record.series = {stored};
  return record;
}

results::CheckRecord judged(const results::DesignRecord& record, const site::Design& design) {
  SimpleYard yard = level_yard();
  std::vector<results::CheckRecord> list;
  check_drain_down(yard.site, yard.ground, design, record, 6 * hour, list);
  REQUIRE(list.size() == 1);
  return list[0];
}
} // namespace

TEST_CASE("a dry well is empty again in time, or it is said how full the next storm finds it") {
  auto found = judged(emptying_in(40, 120), with_well()); // 38 h to a twentieth
  CHECK(outcome(found) == "pass");
  CHECK(found.found_value == Approx(38 * hour).margin(hour));
  CHECK(found.limit == "at most 48 hr");
  found = judged(emptying_in(96, 120), with_well());
  CHECK(outcome(found) == "fail");
  CHECK(found.found_value == Approx(91.2 * hour).margin(hour));
  CHECK_THAT(found.found, ContainsSubstring("after 48 h it is still 50 % full"));
  found = judged(emptying_in(1000, 120), with_well());
  CHECK(outcome(found) == "fail");
  CHECK_THAT(found.found, ContainsSubstring("full when the simulated time ends, 114 h after the rain"));
  found = judged(emptying_in(1000, 30), with_well());
  CHECK(outcome(found) == "unknown");
  CHECK_THAT(found.missing, ContainsSubstring("dry = \"49 hr\""));
}

TEST_CASE("a rain garden is judged by the last water on its ground") {
  site::Design design;
  site::Basin basin;
  basin.name = "garden";
  basin.outline = {
      {10 * foot, 10 * foot}, {20 * foot, 10 * foot}, {20 * foot, 20 * foot}, {10 * foot, 20 * foot}};
  design.basins = {basin};
  results::DesignRecord record;
  record.time = {0, 120 * hour};
  SimpleYard yard = level_yard();
  record.last_standing.assign(yard.ground.grid.cells(), 0);
  const auto put = [&](double x, double y, double hours) { // after the rain
    record.last_standing[static_cast<std::size_t>(cell_at(yard.ground.grid, x * foot, y * foot))] =
        (6 + hours) * hour;
  };
  put(40, 30, 100); // elsewhere
  put(15.2, 15.2, -1);
  CHECK(judged(record, design).found == "empty when the rain has ended");
  put(15.2, 15.2, 20);
  CHECK(outcome(judged(record, design)) == "pass");
  CHECK(judged(record, design).found == "empty 20 h after the rain");
  put(15.2, 15.2, 60);
  CHECK(outcome(judged(record, design)) == "fail");
  CHECK_THAT(judged(record, design).found, ContainsSubstring("mosquitoes"));
  put(15.2, 15.2, 114);
  CHECK_THAT(judged(record, design).found,
             ContainsSubstring("water still stands in it when the simulated time ends"));
}

TEST_CASE("a rain garden that falls dry and is wet again is not empty before the last water has gone") {
  site::Design design;
  site::Basin basin;
  basin.name = "garden";
  basin.outline = {
      {10 * foot, 10 * foot}, {20 * foot, 10 * foot}, {20 * foot, 20 * foot}, {10 * foot, 20 * foot}};
  design.basins = {basin};
  const SimpleYard yard = level_yard();
  const std::size_t cells = yard.ground.grid.cells();
  results::DesignRecord record;
  record.time = {0, 54 * hour}; // 48 h after the rain
  record.standing_hours.assign(cells, 0);
  record.last_standing.assign(cells, 0);
  const auto cell = static_cast<std::size_t>(cell_at(yard.ground.grid, 15.2 * foot, 15.2 * foot));
  record.standing_hours[cell] = 47; // from 1 h after the rain to the end of the watch
  record.last_standing[cell] = 54 * hour;
  const auto found = judged(record, design);
  CHECK(outcome(found) == "unknown");
  CHECK_THAT(found.found, ContainsSubstring("still stands in it when the simulated time ends, 48 h after"));
}

TEST_CASE("where the end of the run is given, that is what is to be later") {
  SimpleYard yard = level_yard();
  yard.site.run.until = 30 * hour; // dry then changes nothing
  std::vector<results::CheckRecord> list;
  check_drain_down(yard.site, yard.ground, with_well(), emptying_in(1000, 30), 6 * hour, list);
  REQUIRE(list.size() == 1);
  CHECK(outcome(list[0]) == "unknown");
  CHECK_THAT(list[0].missing, ContainsSubstring("until = \"55 hr\" under [run]"));
  CHECK_THAT(list[0].missing, !ContainsSubstring("dry"));
}
