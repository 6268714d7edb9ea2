// The hierarchy of depressions of a yard's ground: see relief/depression_tree.hpp.
#pragma once
#include <lowspot/relief/depression_tree.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::terrain {

using relief::Depression;
using relief::DepressionTree;
using relief::pit_inactive;
using relief::pit_outside;

// Of the ground, walls and edges included.
DepressionTree build_depression_tree(const Ground& ground);

} // namespace lowspot::terrain
