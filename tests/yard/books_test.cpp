#include "catch.hpp"
#include "simple_yard.hpp"

#include <limits>

#include <lowspot/base/error.hpp>
#include <lowspot/yard/books.hpp>
#include <lowspot/yard/yard.hpp>

using namespace lowspot;

namespace {
constexpr double whole_rain = 20; // m3
constexpr Store inside[] = {Store::surface, Store::soil, Store::perched, Store::drain};

// A storm half over: rain on the ground, some of it in the soil, the table and the drain.
Ledger half_a_storm() {
  Ledger ledger;
  ledger.open(Store::surface, 0);
  ledger.open(Store::soil, 30);
  ledger.open(Store::perched, 2);
  ledger.open(Store::drain, 0);
  ledger.move(Store::rain, Store::surface, 10);
  ledger.move(Store::surface, Store::soil, 4);
  ledger.move(Store::soil, Store::perched, 1);
  ledger.move(Store::surface, Store::drain, 2);
  ledger.move(Store::drain, Store::drains, 1.5);
  return ledger;
}

// What is in the stores, where one of them holds `more` than the books say.
std::vector<yard::Content> held(Store wrong, double more) {
  std::vector<yard::Content> contents = {
      {Store::surface, 4}, {Store::soil, 33}, {Store::perched, 3}, {Store::drain, 0.5}};
  for (yard::Content& content : contents)
    if (content.store == wrong) content.volume += more;
  return contents;
}

std::string refusal(const std::vector<yard::Content>& contents) {
  try {
    yard::check_books(half_a_storm(), contents, whole_rain, 600, "design 'short run'");
  } catch (const NumericsError& error) {
    return error.what();
  }
  return "";
}
} // namespace

TEST_CASE("books that close are taken, and those that are off by more than round-off are refused") {
  const double allowed = yard::allowed_misfit(half_a_storm(), whole_rain);
  // A billionth of the storm and of a thousandth of what lay there; what rounding may add is far below it.
  CHECK(allowed == Approx(1e-9 * (20 + 0.032) + 1e-12));
  for (const Store store : inside)
    for (const double sign : {-1.0, 1.0}) {
      CAPTURE(store_name(store), sign);
      CHECK(refusal(held(store, 0.5 * sign * allowed)).empty());
      const std::string said = refusal(held(store, 2 * sign * allowed));
      CHECK_THAT(said, ContainsSubstring("the books do not close at 600 s"));
      CHECK_THAT(said, ContainsSubstring("'" + store_name(store) + "'"));
      CHECK_THAT(said, ContainsSubstring("design 'short run'"));
      CHECK_THAT(said, ContainsSubstring(sign < 0 ? "holds -4" : "holds 4"));
    }
}

TEST_CASE("a store that is no number is refused, and water that runs in widens what is allowed") {
  for (const double wrong :
       {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity()})
    for (const Store store : inside)
      CHECK_THAT(refusal(held(store, wrong)), ContainsSubstring("do not close"));
  Ledger ledger = half_a_storm();
  ledger.move(Store::inflow, Store::surface, 1000);
  CHECK(yard::allowed_misfit(ledger, whole_rain) == Approx(1e-9 * (20 + 0.032 + 1000) + 1e-12));
}

TEST_CASE("the yard keeps to it: water that is no number stops the run at its books") {
  SimpleYard yard = simple_yard(8, 4, 0.5, [](double x, double) { return 1.0 - 0.02 * x; });
  make_pervious(yard);
  open_side(yard, terrain::Side::east);
  site::EdgeSeep seep;
  seep.along = {{0, 0}, {0, 2}};
  seep.time = {0, 300};
  seep.flow = {1e-6, std::numeric_limits<double>::quiet_NaN()};
  yard.site.edges.seeps = {seep};
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr);
  run.advance(240);
  CHECK_THROWS_WITH(run.advance(1200),
                    ContainsSubstring("the books do not close") && ContainsSubstring("yard as it is"));
}

TEST_CASE(
    "what a yard of very many cells holds is summed without round-off that the books would take for a loss") {
  // 42 m3 in ninety thousand cells of three inches; all of them hold the same.
  SimpleYard yard = simple_yard(300, 300, 0.0762, [](double, double) { return 1.0; });
  make_pervious(yard);
  yard.site.soils[0].conductivity = {1e-6, 1e-6, 1e-6};
  yard.site.soils[0].perched_start = 0.03;
  yard.rain.time = {0, 60};
  yard.rain.intensity = {0};
  yard::Options options;
  options.leaks = {{"hose", {45150}, 3e-4, 60}};
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr, options);
  const site::Soil& soil = yard.site.soils[0];
  const double area = 90000 * 0.0762 * 0.0762;
  CHECK_THAT(run.stored(Store::soil),
             WithinRel(area * (soil.depth.likely - 0.03) * soil.initial_moisture, 1e-14));
  const double held = run.stored(Store::soil);
  run.advance(60);
  // A tenth of what is allowed.
  CHECK(std::abs(run.ledger().misfit(Store::soil, run.stored(Store::soil))) < 1e-13 * held);
}
