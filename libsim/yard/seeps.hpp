// Hillside water that comes in underground, along a line at the limit of the yard.
#pragma once
#include <vector>

#include <lowspot/perched/perched.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::yard {

// A seep of known flow: straight into the perched zone of the cells along its line, evenly.
struct Seep {
  std::vector<int> cells;         // indices in the grid
  std::vector<double> time, flow; // s, m3/s from that time on
  double waiting = 0;             // m3 arrived since the perched zone was last moved
};

// The middle of a face at the limit [m].
Point face_centre(const Grid& grid, const terrain::EdgeFace& face);

// The faces at the limit of the yard, as places in ground.edges, that a line along the outline touches. A
// cell with two such faces gives the one whose side lies along the line. Throws InputError naming `key` when
// there is none.
std::vector<std::size_t> faces_along(const site::Site& site, const terrain::Ground& ground,
                                     const Polyline& along, const std::string& key);

// The cells that each seep of the site enters through.
std::vector<Seep> place_seeps(const site::Site& site, const terrain::Ground& ground);
// Seeps given by the thickness that is saturated upslope; where two share a face the thicker counts.
std::vector<perched::InflowFace> upslope_faces(const site::Site& site, const terrain::Ground& ground);

// Flow of a seep at a time [m3/s], and when it changes next [s] (infinite: never again).
double flow_at(const Seep& seep, double time);
double next_change(const Seep& seep, double time);

} // namespace lowspot::yard
