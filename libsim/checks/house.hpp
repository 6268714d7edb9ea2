// The ground at the house: it falls away from the walls, and water that spills from low spots passes by.
#pragma once
#include <vector>

#include <lowspot/results/check_record.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::checks {

// Fall of the ground over the first feet from each wall, every half foot along it; one item a building and
// kind of ground (soil or lawn; paving), with the worst place.
void check_fall_from_house(const site::Site& site, const terrain::Ground& ground,
                           std::vector<results::CheckRecord>& list);

// What happens when the drain takes nothing: every low spot fills to its brim and spills. One item a
// building: how high such water stands at its walls, against the lowest place where it could get in
// (`floor`).
void check_overflow(const site::Site& site, const terrain::Ground& ground,
                    std::vector<results::CheckRecord>& list);

} // namespace lowspot::checks
