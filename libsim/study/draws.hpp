// What is uncertain in a site, and stratified seeded draws of it.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include <lowspot/base/quantity.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::study {

// One band of the site file.
struct UncertainInput {
  // What the band is of.
  enum class Figure { topsoil_conductivity, tight_conductivity, topsoil_depth, drainable_porosity };
  std::string key;  // "soil.yard.topsoil.conductivity"
  std::string name; // "conductivity of the topsoil"; with the soil's name where there are several
  Figure figure = Figure::topsoil_conductivity; // what the band is of
  std::size_t soil = 0;                         // index in Site::soils
  site::Band band;                              // SI
  double most = 0;                              // no draw lies above; infinite where there is no such limit
};

// What its values are; none for a bare number.
std::optional<Dimension> dimension_of(const UncertainInput& input);

// Every soil figure that is a band and is used by open ground of the site, in the order of the file.
std::vector<UncertainInput> find_uncertain_inputs(const site::Site& site);
// How fast water moves through each topsoil and tight layer in use, bands and single figures alike.
std::vector<UncertainInput> find_conductivities(const site::Site& site);

// The value that is not exceeded with probability p, 0 < p < 1. low, likely and high are exactly the tenth,
// the fiftieth and the ninetieth hundredth part; between and beyond them the logarithm is normal in two
// pieces, one on either side of the likely value, so that a lopsided band is kept as it was given. A side
// that reaches down to 0 is normal in the value itself, cut off at 0.
double quantile(const site::Band& band, double p);
// As quantile(), no higher than input.most.
double value_at(const UncertainInput& input, double p);

// The standard normal value with this probability below it, to 1e-15 (rational start, Halley steps on erfc).
double normal_quantile(double p);

// Stratified probabilities, one row a draw and one column an input (Latin hypercube; McKay, Beckman and
// Conover 1979): every input has one draw in each of `draws` layers of equal probability, at a random place
// in it. Of 100 such sets the one is kept whose columns are least correlated, so that shares by input do not
// mix. The same seed gives the same draws on every machine.
std::vector<std::vector<double>> stratified(int draws, int inputs, std::uint64_t seed);

// A copy of the site with these values, one an input. Caps of designs that are made of the yard's topsoil
// have its conductivity.
site::Site with_values(const site::Site& site, const std::vector<UncertainInput>& inputs,
                       const std::vector<double>& values);

// The same design in a copy of the site it is of; null for null.
const site::Design* same_design(const site::Site& copy, const site::Site& original,
                                const site::Design* design);

} // namespace lowspot::study
