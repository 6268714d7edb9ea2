// What lies on the ground, averaged over each cell by the share that is seen of it.
#pragma once
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::terrain {

// Fills areas, buildings and what lies beyond the outline (coverage), and the fields of cover and soil.
// Buildings lie over all areas. Averages are over the part of a cell in the yard that no building covers;
// `pervious` is a share of the whole cell, which on the limit of the yard is taken to be like its part
// within. Cells wholly under buildings get the lawn's figures and pervious 0.
void lay_covers(const site::Site& site, Ground& ground);

} // namespace lowspot::terrain
