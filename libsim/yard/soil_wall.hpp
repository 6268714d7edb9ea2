// What passes between a trench and the soil beside it: over how much of its walls, and how much at most.
#pragma once
#include <span>
#include <vector>

#include <lowspot/yard/trench.hpp>

namespace lowspot::yard {

// Height of wall that water from the soil passes at each station [m], in the mean of both walls, into
// `height` (one entry a station): the mean of the table beside it and the level in the stone above the tight
// layer, as the trade between the two counts it (perched::wall_potential), over what each contact has of the
// fabric. 0 where no column gives. `giving` [m3]: what those columns gave, whatever others took from the same
// station. exchanges, exchanged [m3]: as the contacts; saturated [m]: by cell, after the step.
void find_soil_wall(const perched::Layer& layer, std::span<const drain::Station> stations,
                    std::span<const WallContact> contacts, std::span<const perched::Exchange> exchanges,
                    std::span<const double> exchanged, std::span<const double> saturated,
                    std::span<double> height, std::span<double> giving);

// Most that a station gives to the soil of a column [m3/s] whose table, `saturated` [m] above its tight
// layer, lies below the trench, with the water in the stone at the elevation `level`: what its wetted bottom
// and walls pass at unit gradient, K (w + 2 h) a metre, of which the bottom passes `bottom_conductivity` w to
// the subsoil in any case. The head over a table far below would draw any amount through a wall that is
// hardly wet. Infinite where the table stands as high as the foot of the trench, or the trench goes down to
// the tight layer.
double most_to_soil(const drain::Station& station, double bottom_conductivity, double level,
                    const perched::Layer& layer, int cell, double saturated);

} // namespace lowspot::yard
