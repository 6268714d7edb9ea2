// Fittings, outlets, inlets and taps as stores of the network.
#pragma once
#include <lowspot/drain/network.hpp>

namespace lowspot::drain {

// One unknown a place, after those of the runs.
void add_places(const Layout& layout, Network& network);
// Ends of a run at an outlet, by the outlet's kind.
void add_outlet_end(const Layout& layout, Network& network, int run, int outlet);
// The weep hole of each pop-up, once: at the lowest pipe that ends there, or at the stone where none does.
void add_weeps(const Layout& layout, Network& network);
// Openings to the ground, short pipes of inlets, taps, pumps and outside levels that change.
void add_mouths_and_links(const Layout& layout, Network& network);
StoneReach stone_between(const Run& run_a, const Station& a, const Run& run_b, const Station& b);

} // namespace lowspot::drain
