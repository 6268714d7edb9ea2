// How fast water falls in a hole bored into ground that drains: field-saturated flow out of a cylinder above
// the water table (Reynolds and Elrick 1985; the relation for percolation tests in Reynolds, Galloway and
// Radcliffe 2015). With a the radius, H the depth of water, C the shape factor and alpha* the sorptive number
// of the soil,
//   C Q = K (2 pi H^2 + C pi a^2 + 2 pi H / alpha*),
// by pressure through the wall, by gravity through the bottom, and by the suction of the soil around. With
// Q = -pi a^2 dH/dt the level falls at K times
//   overstatement(H) = (2 H^2 + C a^2 + 2 H / alpha*) / (C a^2),
// the factor by which the raw rate exceeds the conductivity. Steady flow at each level: see wetting_excess()
// for what dry soil adds. SI throughout.
#pragma once

namespace lowspot::measure {

// C of a hole with water H = `ratio` radii deep, after Zhang, Groenevelt and Parkin (1998), who fitted it to
// Reynolds and Elrick's solutions for sorptive numbers of 1, 4 and 12 /m and more; in between by the
// logarithm. Above 0 for ratio > 0.
double shape_factor(double ratio, double sorptive_number);

// Glover (1953): the shape factor without suction, for comparison, C = asinh(r) - sqrt(1 + 1/r^2) + 1/r.
double shape_factor_by_glover(double ratio);

// A hole in ground of even conductivity.
struct AugerHole {
  double radius = 0;          // m
  double sorptive_number = 0; // alpha* [1/m]
};

// The parts of the fall: what gravity takes through the bottom (1), pressure through the wall, and suction.
// In multiples of the conductivity.
struct Pull {
  double bottom = 1, wall = 0, suction = 0; // each over the conductivity
  double sum() const { return bottom + wall + suction; }
};
// For water that stands water_depth [m] deep in the hole; and their sum, the raw rate of fall over the
// conductivity.
Pull pull_on(const AugerHole& hole, double water_depth);
double overstatement(const AugerHole& hole, double water_depth);

// Conductivity times time that the level takes from `from` down to `to` [m], 0 <= to <= from: the integral of
// dH / overstatement(H), by Gauss's rule.
double conductivity_time(const AugerHole& hole, double from, double to);

// The level that water at `from` has fallen to after conductivity * time = `through` [m]; 0 when it is gone.
double level_after(const AugerHole& hole, double from, double through);

// By what factor soil that was dry takes more than in steady flow: the wetted bulb is still small (Philip
// 1993, a sphere of the same wetted area as the hole). absorbed: water taken in so far [m3]; fillable: pores
// that it fills [m3/m3]. 1 / (1 - r/R) with 4/3 pi (R^3 - r^3) fillable = absorbed; at most 20.
double wetting_excess(const AugerHole& hole, double water_depth, double absorbed, double fillable);

} // namespace lowspot::measure
