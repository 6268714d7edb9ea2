// Inlets, channels, wells, pumps and tied-in downspouts of a design as parts of a drain that can be built.
#pragma once
#include <functional>
#include <string>
#include <vector>

#include <lowspot/drain/layout.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::yard {

// The soil of the ground at a place: that of the last area drawn there, else of the yard.
const site::Soil& soil_at(const site::Site& site, const Point& at);
// Where a downspout leads in a design (null: the yard as it is), by what is written: that may be a part of
// another design, see tied_in().
std::string destination(const site::Design* design, const site::Downspout& spout);
// Whether a design has anything that needs a drain to be computed.
bool has_drain(const site::Design& design);

// A fitting without a box of its own; a cleanout has a mouth.
drain::Fitting plain_fitting(const site::Fitting& fitting, const std::function<double(Point)>& ground_at);
// The outlet with its well, pump, lid and levels; `arriving` is the lowest pipe that ends there [m].
drain::Outlet full_outlet(const site::Site& site, const site::Outlet& outlet, double arriving,
                          const std::function<double(Point)>& ground_at);
// Adds inlets and channels to the fittings, and downspouts to the taps. The runs must be resolved.
void add_intakes(const site::Site& site, const site::Design& design,
                 const std::function<double(Point)>& ground_at, drain::Layout& layout,
                 std::vector<std::string>& warnings);

} // namespace lowspot::yard
