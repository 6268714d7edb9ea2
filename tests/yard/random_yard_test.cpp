// What holds for every yard, tried on yards at random. The suite tries a share of the seeds,
// `test_yard "[.thousand]"` all of them.
#include "catch.hpp"
#include "random_yard.hpp"

#include <lowspot/base/error.hpp>
#include <lowspot/yard/yard.hpp>

using namespace lowspot;

namespace {

constexpr Store inside[] = {Store::surface, Store::soil, Store::perched, Store::drain};

struct Outcome {
  double rain = 0, opened = 0, edges = 0, drains = 0, deep = 0, air = 0;
  double stored[4] = {};
  double moved() const { return rain + opened; } // m3 that there was to account for
  double gone() const { return edges + drains + deep + air; }
};

Outcome outcome_of(const yard::Yard& run) {
  Outcome out;
  const Ledger& books = run.ledger();
  out.rain = books.given(Store::rain);
  out.edges = books.balance(Store::edges);
  out.drains = books.balance(Store::drains);
  out.deep = books.balance(Store::deep_leakage);
  out.air = books.balance(Store::evapotranspiration);
  for (int k = 0; k < 4; ++k) {
    out.stored[k] = run.stored(inside[k]);
    out.opened += books.opened(inside[k]);
  }
  return out;
}

void check_stores(const RandomYard& made, const yard::Yard& run) {
  for (const double depth : run.depth()) REQUIRE((depth >= 0 && depth < 10));
  for (std::size_t c = 0; c < run.saturated().size(); ++c) {
    const double thick =
        made.yard.site.soils[static_cast<std::size_t>(made.yard.ground.soil[c])].depth.likely;
    REQUIRE((run.saturated()[c] >= 0 && run.saturated()[c] <= thick + 1e-9));
  }
  for (const Store store : inside)
    REQUIRE(run.stored(store) >= -1e-9 * outcome_of(run).moved()); // what the books allow
  const Outcome out = outcome_of(run);
  REQUIRE(std::isfinite(out.gone()));
  for (const Store store : {Store::edges, Store::drains, Store::deep_leakage, Store::evapotranspiration})
    REQUIRE(run.ledger().given(store) <= 1e-12 * out.moved()); // nothing comes back from where it went
  REQUIRE(std::abs(run.closure()) <= 1e-9 * out.moved());
  double stored = 0;
  for (const double part : out.stored) stored += part;
  REQUIRE(std::abs(out.moved() - out.gone() - stored) <= 1e-9 * out.moved());
}

Outcome run_and_check(const RandomYard& made) {
  yard::Yard run(made.yard.site, made.yard.ground, made.yard.rain, made.works());
  for (const double share : {0.02, 0.2, 1.0}) {
    REQUIRE_NOTHROW(run.advance(share * made.end));
    check_stores(made, run);
  }
  return outcome_of(run);
}

void check_yard(unsigned seed) {
  INFO("seed " << seed);
  const RandomYard made = random_yard(seed);
  const Outcome out = run_and_check(made);

  // The mirror image: sums run in another order and so do the sweeps of the solvers, hence 0.2 %.
  const Outcome turned = run_and_check(mirrored(made));
  const double near = 2e-3 * out.moved();
  CHECK_THAT(turned.edges, WithinAbs(out.edges, near));
  CHECK_THAT(turned.drains, WithinAbs(out.drains, near));
  CHECK_THAT(turned.deep, WithinAbs(out.deep, near));
  CHECK_THAT(turned.air, WithinAbs(out.air, near));
  for (int k = 0; k < 4; ++k) CHECK_THAT(turned.stored[k], WithinAbs(out.stored[k], near));

  // Half as much rain again: no less goes over the limits and out by the drain together with what is on the
  // ground, and no less into the ground; a hundredth for the steps, which fall elsewhere.
  RandomYard more = made;
  for (double& intensity : more.yard.rain.intensity) intensity *= 1.5;
  const Outcome wetter = run_and_check(more);
  const double slack = 0.01 * wetter.moved();
  CHECK(wetter.edges + wetter.drains + wetter.stored[0] + wetter.stored[3] >=
        out.edges + out.drains + out.stored[0] + out.stored[3] - slack);
  CHECK(wetter.deep + wetter.air + wetter.stored[1] + wetter.stored[2] >=
        out.deep + out.air + out.stored[1] + out.stored[2] - slack);

  // Without rain and with nothing that drains, no water appears.
  RandomYard dry = made;
  for (double& intensity : dry.yard.rain.intensity) intensity = 0;
  for (site::Soil& soil : dry.yard.site.soils) soil.perched_start = 0;
  const Outcome none = run_and_check(dry);
  CHECK(none.rain == 0);
  CHECK(none.edges == 0);
  CHECK(none.drains == 0);
  CHECK(none.stored[0] == 0);
  CHECK(none.stored[3] == 0);
}

} // namespace

TEST_CASE("yards at random keep their books, their mirror and their order") {
  check_yard(GENERATE(range(1U, 31U)));
}

TEST_CASE("a thousand yards at random", "[.thousand]") {
  check_yard(GENERATE(range(1U, 1001U)));
}
