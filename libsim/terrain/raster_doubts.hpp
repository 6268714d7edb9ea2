// What a raster shows of itself that makes the ground it gives doubtful.
#pragma once
#include <string>
#include <vector>

#include <lowspot/gis/raster.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::terrain {

// Sentences, each with what comes of it: heights that stand apart from all others as one figure (what a
// program wrote where it had none), heights in coarse steps, cells wider than the hollows of a yard, heights
// whose unit nobody says beside coordinates in another. The raster in metres, NaN where it has no data.
std::vector<std::string> raster_doubts(const site::Site& site, const gis::Raster& raster);

} // namespace lowspot::terrain
