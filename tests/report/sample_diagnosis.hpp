// A made-up diagnosis of the sample yard, to test words, tables and pictures with.
#pragma once
#include <lowspot/report/diagnosis_map.hpp>

#include "report/picture.hpp"

namespace sample {

inline lowspot::study::Diagnosis diagnosis() {
  using namespace lowspot::study;
  Diagnosis all;
  all.yard = yard();
  all.rain_intensity = 3e-6;
  LowSpotDiagnosis low;
  low.spot = all.yard.low_spots[0];
  low.spot.spill_level = 30.66;
  low.spot.cells = {static_cast<int>(grid().index(24, 15)), static_cast<int>(grid().index(25, 15))};
  low.place = "long bed";
  low.spill_cover = "lawn";
  low.spill_side = "east";
  low.leaves_yard = true;
  low.covers = {{"patio", 40, true}, {"lawn", 80, false}};
  low.roofs = {{"house, west downspout", 39}};
  low.rain_to_fill = {0.0046, 0.030, 0.020};
  Basin one, two, whole;
  one.id = 1, one.merges_into = 3, one.spills_to = 2, one.volume = 0.1;
  two.id = 2, two.merges_into = 3, two.spills_to = 1, two.volume = 0.2;
  whole.id = 3, whole.volume = 0.55;
  low.basins = {one, two, whole};
  OutletRoute south;
  south.outlet = "south edge";
  south.kind = "edge";
  south.reach = Reach::by_gravity;
  south.path = {{24 * foot, 15 * foot}, {24 * foot, 0.5 * foot}};
  south.length = 14.5 * foot;
  south.fall_available = 0.2;
  south.fall_needed = 0.1;
  south.margin = 0.1;
  south.deepest_cut = 0.5;
  south.shallow_end = 1.2;
  south.crosses = {{"long bed", 0.6}, {"raised edging", 0}};
  OutletRoute street = south;
  street.outlet = "street";
  street.kind = "curb";
  street.reach = Reach::too_little_fall;
  street.margin = -0.05;
  low.outlets = {south, street};
  low.outlets_searched = true;
  all.low_spots = {low};
  all.catchment.assign(grid().cells(), 0);
  for (int j = 5; j < 30; ++j)
    for (int i = 10; i < 40; ++i) all.catchment[grid().index(i, j)] = 1;
  HeadDiagnosis head;
  head.design = "3 in along the patio";
  head.run = "west leg";
  head.outlets = {south};
  all.heads = {head};
  return all;
}

} // namespace sample
