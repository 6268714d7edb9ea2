// Trees beside what is dug.
#pragma once
#include <string>
#include <vector>

#include <lowspot/checks/works.hpp>
#include <lowspot/results/check_record.hpp>

namespace lowspot::checks {

// Ground that is dug: a straight piece of trench, a pit, a rain garden.
struct Dug {
  std::string name; // of the work
  Polygon outline;  // m
};
// The straight pieces of a trench of this width [m].
std::vector<Dug> trench(const std::string& name, const Polyline& path, double width);

// Share (0..1) of a circle of `radius` [m] round `trunk` that digging cuts off from it: what lies behind what
// is dug as seen from the trunk, the hole itself included. Roots run straight out and end where they are cut:
// an upper figure, since roots also pass under a shallow trench.
double share_cut_off(const Point& trunk, double radius, const std::vector<Dug>& dug);

// Appends one record a tree, of all trenches, pits, boxes of inlets, channels, rain gardens and improved soil
// together; it names what comes nearest. None where nothing is dug.
void check_roots(const site::Site& site, const Works& works, std::vector<results::CheckRecord>& list);

} // namespace lowspot::checks
