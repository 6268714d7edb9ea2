#include "catch.hpp"
#include "simple_yard.hpp"

#include <lowspot/yard/yard.hpp>

using namespace lowspot;

TEST_CASE("the account of every column closes through storms, seeps, drains, plants and dry weeks") {
  // The table rises into moisture and falls out of it over and over: nothing may be made or lost in any cell.
  SimpleYard yard = simple_yard(
      24, 12, 0.25, [](double x, double y) { return 1.0 + 0.02 * std::hypot(x - 3, y - 1.5) + 0.01 * x; });
  make_pervious(yard);
  open_side(yard, terrain::Side::east);
  yard.site.soils[0].conductivity = {2e-5, 2e-5, 2e-5};
  yard.site.soils[0].tight_conductivity = {2e-8, 2e-8, 2e-8};
  yard.site.soils[0].tight_thickness = 0.3;
  yard.site.lawn.crop_coefficient = 0.9;
  yard.site.storm.reference_et = 5e-3 / 86400;
  yard.site.edges.seeps = {{{{6, 0}, {6, 3}}, {0, 40000}, {2e-5, 0}, site::not_given, "hill"}};
  yard.rain.time = {0, 3600, 50000, 53600, 200000, 203600};
  yard.rain.intensity = {1e-5, 0, 4e-6, 0, 8e-6};
  const site::Design design = simple_drain(yard, 0.35);
  yard::Yard run(yard.site, yard.ground, yard.rain, &design);
  const auto content = [&](std::size_t c) {
    return soil::water_above(run.columns(), c, run.saturated()[c]) +
           soil::water_saturated(run.columns(), c, run.saturated()[c]);
  };
  std::vector<double> start;
  for (std::size_t c = 0; c < yard.ground.grid.cells(); ++c) start.push_back(content(c));
  const yard::CellBooks& books = run.cell_books();
  double used[6] = {};
  for (double until : {1800.0, 7200.0, 51000.0, 2e5, 2.1e5, 1.5e6}) {
    run.advance(until);
    for (std::size_t c = 0; c < start.size(); ++c) {
      const double booked = books.infiltrated[c] - books.returned[c] + books.lateral[c] - books.to_drain[c] -
                            books.drunk[c] - books.leaked[c];
      CHECK_THAT(content(c) - start[c], WithinAbs(booked, 1e-11));
    }
  }
  for (std::size_t c = 0; c < start.size(); ++c) {
    used[0] += books.infiltrated[c], used[1] += books.returned[c], used[2] += std::abs(books.lateral[c]);
    used[3] += std::abs(books.to_drain[c]), used[4] += books.drunk[c], used[5] += books.leaked[c];
  }
  for (double volume : used) CHECK(volume > 1e-3); // every term was at work
  CHECK(std::abs(run.closure()) < 1e-9);
}
