// Conductivity of a soil that is not saturated, after Brooks and Corey (1964) with the pore model of Burdine
// (1953).
#pragma once
#include <lowspot/soil/column.hpp>

namespace lowspot::soil {

// Share of the pores between residual and saturated content that hold water, 0 to 1.
double effective_saturation(const Parameters& soil, double content);

// K(content) = conductivity * Se^(3 + 2 / pore_size_index) [m/s].
double conductivity_at(const Parameters& soil, double content);

// Content after `dt` [s] of a uniform zone of `thickness` [m] that drains freely at K(content): the exact
// solution of thickness * d(content)/dt = -K(content), stopped at field capacity. Any dt.
double drained_content(const Parameters& soil, double content, double thickness, double dt);

// Height of the air entry above a table [m], from the suction at the wetting front (Rawls, Brakensiek and
// Miller 1983): suction = (2 + 3 lambda) / (1 + 3 lambda) * bubbling height / 2.
double bubbling_height(const Parameters& soil);

// The most that rises from a table that stands `distance` [m] below the roots [m/s], never above the
// conductivity (Gardner 1958; Eagleson 1978): K (1 + 1.5 / (1 + 3 lambda)) (bubbling height / distance)^(2 +
// 3 lambda).
double capillary_rise(const Parameters& soil, double distance);

} // namespace lowspot::soil
