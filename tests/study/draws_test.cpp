#include "catch.hpp"
#include "simple_yard.hpp"

#include <algorithm>
#include <cmath>

#include <lowspot/study/draws.hpp>
#include <lowspot/study/spread.hpp>

using namespace lowspot;
using study::UncertainInput;

TEST_CASE("normal quantiles against tables, and against the error function they invert") {
  CHECK_THAT(study::normal_quantile(0.9), WithinAbs(1.2815515655446004, 1e-13));
  CHECK_THAT(study::normal_quantile(0.975), WithinAbs(1.9599639845400545, 1e-13));
  CHECK(study::normal_quantile(0.5) == 0);
  for (double p = 0.0005; p < 1; p += 0.0101)
    CHECK_THAT(0.5 * std::erfc(-study::normal_quantile(p) / std::sqrt(2.0)), WithinAbs(p, 1e-14));
}

TEST_CASE("low, likely and high are exactly P10, P50 and P90, lopsided bands included") {
  for (const site::Band band : {site::Band{1e-8, 1e-7, 1e-6}, site::Band{2e-8, 1e-7, 9e-6},
                                site::Band{0.10, 0.15, 0.20}, site::Band{0, 1e-7, 4e-7}}) {
    CHECK_THAT(study::quantile(band, 0.1), WithinRel(band.low, 1e-12) || WithinAbs(band.low, 1e-20));
    CHECK_THAT(study::quantile(band, 0.5), WithinRel(band.likely, 1e-12));
    CHECK_THAT(study::quantile(band, 0.9), WithinRel(band.high, 1e-12));
    double last = -1;
    for (double p = 0.001; p < 1; p += 0.001) {
      CHECK(study::quantile(band, p) >= last);
      last = study::quantile(band, p);
      CHECK(last >= 0);
    }
  }
  // Log-normal: equal steps of the normal value are equal ratios.
  const site::Band band{1e-8, 1e-7, 1e-6};
  CHECK_THAT(std::log(study::quantile(band, 0.975) / 1e-7),
             WithinRel(std::log(10.0) * 1.9599639845400545 / 1.2815515655446004, 1e-12));
  UncertainInput limited;
  limited.band = {0.05, 0.1, 0.2};
  limited.most = 0.21;
  CHECK(study::value_at(limited, 0.999) == 0.21);
  CHECK_THAT(study::value_at(limited, 0.9), WithinRel(0.2, 1e-12));
}

TEST_CASE("each input has one draw in every layer, at random in it, the same for the same seed") {
  const auto set = study::stratified(20, 4, 7);
  REQUIRE(set.size() == 20);
  for (int input = 0; input < 4; ++input) {
    std::vector<double> column;
    for (const auto& row : set) column.push_back(row[input]);
    std::sort(column.begin(), column.end());
    for (int k = 0; k < 20; ++k) CHECK((column[k] > k / 20.0 && column[k] < (k + 1) / 20.0));
  }
  CHECK(set == study::stratified(20, 4, 7));
  CHECK(set != study::stratified(20, 4, 8));
  // Inputs hardly go together: at random two of twenty would by 0.22 in the mean.
  for (int a = 0; a < 4; ++a)
    for (int b = a + 1; b < 4; ++b) {
      double sum = 0, squares = 0;
      for (const auto& row : set)
        sum += (row[a] - 0.5) * (row[b] - 0.5), squares += std::pow(row[a] - 0.5, 2);
      CHECK(std::abs(sum / squares) < 0.2);
    }
  CHECK(study::stratified(1, 2, 1).size() == 1);
}

TEST_CASE("the inputs of a site are its bands; values go where they belong") {
  SimpleYard yard = simple_yard(2, 2, 1, [](double, double) { return 1.0; });
  site::Soil& soil = yard.site.soils[0];
  CHECK(study::find_uncertain_inputs(yard.site).empty());
  soil.conductivity = {1e-7, 1e-6, 1e-5};
  soil.tight_conductivity = {1e-9, 1e-8, 1e-7};
  soil.depth = {0.2, 0.3, 0.4};
  soil.drainable_porosity = {0.05, 0.1, 0.14};
  soil.perched_start = 0.25;
  site::Soil unused = soil;
  unused.name = "elsewhere";
  yard.site.soils.push_back(unused); // no area lies on it
  const std::vector<UncertainInput> inputs = study::find_uncertain_inputs(yard.site);
  REQUIRE(inputs.size() == 4);
  CHECK(inputs[0].key == "soil.soil.topsoil.depth");
  CHECK(inputs[3].key == "soil.soil.tight_layer.conductivity");
  CHECK_THAT(inputs[2].most, WithinAbs(unused.porosity - unused.field_capacity, 1e-15));
  const site::Site drawn = study::with_values(yard.site, inputs, {0.22, 2e-6, 0.12, 3e-9});
  CHECK(drawn.soils[0].depth.likely == 0.22);
  CHECK(drawn.soils[0].conductivity.likely == 2e-6);
  CHECK(drawn.soils[0].drainable_porosity.likely == 0.12);
  CHECK(drawn.soils[0].tight_conductivity.likely == 3e-9);
  CHECK(drawn.soils[0].perched_start == 0.22);
  CHECK(drawn.soils[1].depth.likely == 0.3);
  // Sod over the stone is the topsoil, a cap of its own figures is not.
  yard.site.designs = {simple_drain(yard), simple_drain(yard)};
  yard.site.designs[0].runs[0].cap = {"sod", 1e-6, 0.1, true};
  yard.site.designs[1].runs[0].cap = {"own figures", 1e-6, 0.1, false};
  const site::Site sodded = study::with_values(yard.site, inputs, {0.22, 2e-6, 0.12, 3e-9});
  CHECK_THAT(sodded.designs[0].runs[0].cap.conductivity, WithinRel(2e-6, 1e-12));
  CHECK(sodded.designs[1].runs[0].cap.conductivity == 1e-6);
  CHECK(study::same_design(sodded, yard.site, &yard.site.designs[1]) == &sodded.designs[1]);
  CHECK(study::same_design(sodded, yard.site, nullptr) == nullptr);
}

TEST_CASE("conductivities in use are found whether they are bands or not") {
  SimpleYard yard = simple_yard(4, 4, 1, [](double, double) { return 0.0; });
  yard.site.soils.push_back(yard.site.soils[0]); // of no ground
  yard.site.soils[0].tight_conductivity = {1e-9, 1e-8, 1e-7};
  yard.site.soils[0].depth = {0.2, 0.3, 0.4};
  const std::vector<UncertainInput> found = study::find_conductivities(yard.site);
  REQUIRE(found.size() == 2);
  CHECK_FALSE(found[0].band.is_band());
  CHECK(found[1].band.low == 1e-9);
}
