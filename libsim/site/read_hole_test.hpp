// `hole_test` of a soil: its table reduced to the conductivities of topsoil and tight layer.
#pragma once
#include <optional>

#include <lowspot/site/table_reader.hpp>

namespace lowspot::site {

// What hole tests say of a soil; empty where they say nothing.
struct MeasuredConductivity {
  std::optional<Band> topsoil, tight_layer; // m/s, at any one place of the yard
};

// Reads the table that `hole_test` names, if any. A hole that ends in the topsoil speaks for it; one that
// goes deeper for the tight layer, from the moment its water stands no higher than that layer. Fills
// soil.holes and soil.holes_say; soil.depth must be known. Throws InputError for what cannot be used.
MeasuredConductivity read_hole_test(const TableReader& table, Soil& soil);

// The band that counts: `given` in the file wins over `measured`, with a warning; a measured one is listed
// with its tag. Empty where there is neither.
std::optional<Band> given_or_measured(const TableReader& layer, const std::optional<Band>& given,
                                      const std::optional<Band>& measured);

} // namespace lowspot::site
