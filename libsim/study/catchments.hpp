// What sheds water to each basin: ground by cover, and roofs.
#pragma once
#include <string>
#include <vector>

#include <lowspot/study/diagnosis.hpp>
#include <lowspot/study/runoff.hpp>
#include <lowspot/terrain/ground.hpp>
#include <lowspot/terrain/low_spot_map.hpp>

namespace lowspot::study {

// Areas are exact to the outlines of the covers, not to the nearest cell; what a roof leaves open of cells
// that count as building has the cover of the ground beside it, onto which it drains.
struct Catchments {
  // A roof that sheds into a basin.
  struct Roof {
    std::string name; // of the building and its downspout, or of its eaves
    int basin;        // single basin
    double roof_area; // m2, the part of it that lands there
  };
  // One a basin of the map and one a cover (the site's areas, then the lawn); of basins that merged: empty.
  std::vector<std::vector<double>> dry;   // m2 that lies above water when the low spot is full
  std::vector<std::vector<double>> under; // m2 below it
  std::vector<Roof> roofs;                // where their water lands in a basin
};
// By the way that water takes over the ground of each basin of the map.
Catchments find_catchments(const site::Site& site, const terrain::Ground& ground,
                           const terrain::LowSpotMap& map);

// Rain that fills each basin of the map, steady at `intensity` [m/s]; basins of low spots with an id above
// `most_spots` are left at `never`.
std::vector<RainToFill> rain_to_fill(const site::Site& site, const terrain::Ground& ground,
                                     const terrain::LowSpotMap& map, const Catchments& catchments,
                                     double intensity, int most_spots = 100);

} // namespace lowspot::study
