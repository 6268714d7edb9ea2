// Heads lost where pipes bend and meet.
#pragma once
#include <lowspot/drain/connections.hpp>
#include <lowspot/drain/layout.hpp>

namespace lowspot::drain {

// Head lost at a sharp turn through `angle` [rad, 0 to pi], in velocity heads: 0.946 s2 + 2.047 s4, s =
// sin(angle / 2) (Weisbach 1855). A right angle costs 0.98, 45 degrees 0.18; a curve laid as many small turns
// costs little.
double bend_loss(double angle);
constexpr double entrance_loss =
    0.5; // velocity heads, from a box into a pipe with a square edge (White 2011)

// Angle [rad] by which water turns between two directions.
double turn_angle(const Point& from, const Point& to);

// Velocity heads lost by the bends of a run between two distances from its head [m].
double bend_losses(const Run& run, double from, double to);
// Velocity heads that water of a run loses at the place it arrives at: what the fitting states, or by the
// smallest turn into a run that leads on from there.
double arrival_loss(const Layout& layout, const Connections& joined, int run);
// Velocity heads lost by water that enters a run from the box of an inlet or channel; zero elsewhere.
double entry_loss(const Layout& layout, const Connections& joined, int run);

} // namespace lowspot::drain
