// The yard's ground as ways of pipes are looked for on it.
#pragma once
#include <lowspot/study/pipe_profile.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::study {

// Whole blocks of cells become one, as many as keep the ground to `most_cells`: elevation is the mean; a
// block is open when all its cells are, so that no way passes under a building; a gap narrower than two
// blocks may be lost. Paving makes digging dearer by the rules' factor, by its share.
ReachGround make_reach_ground(const site::Site& site, const terrain::Ground& ground,
                              double most_cells = 12000);

// The open cell nearest to a place, at most `far` [m] away; -1 when there is none.
int nearest_open(const ReachGround& ground, const Point& at, double far);

} // namespace lowspot::study
