// Trenches down to the tight layer cut the perched water in two.
#pragma once
#include <vector>

#include <lowspot/drain/drain.hpp>
#include <lowspot/perched/perched.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::yard {

// Whether a trench whose bottom lies at this elevation [m] reaches the tight layer, to a centimetre, between
// two neighbouring columns (indices in the grid).
bool reaches_tight_layer(double bottom, const perched::Layer& layer, std::size_t a, std::size_t b);

// Faces that such trenches cut: those between two cells whose middles lie on either side of the middle of the
// trench, or one of them on it. No perched water passes the trench but through it. Faces may come twice.
std::vector<perched::ClosedFace> find_cut_faces(const terrain::Ground& ground,
                                                const std::vector<drain::Station>& stations,
                                                const drain::Layout& layout, const perched::Layer& layer);

} // namespace lowspot::yard
