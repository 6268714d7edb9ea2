// How much of a trench's walls the water passes that comes from the soil.
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

} // namespace lowspot::yard
