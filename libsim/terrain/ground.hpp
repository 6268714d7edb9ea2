// The yard as a grid: bed elevation, what lies on it, what blocks it and what happens at its limits.
#pragma once
#include <string>
#include <vector>

#include <lowspot/base/field.hpp>
#include <lowspot/base/grid.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::terrain {

// A side of a cell or of the yard, by compass.
enum class Side { west, east, south, north };

// A face of an active cell at the limit of the yard.
struct EdgeFace {
  int cell = 0;              // index in the grid
  Side side = Side::west;    // where the face lies on its cell
  bool open = true;          // open: leaves at the local ground slope; otherwise a wall
  Side compass = Side::west; // which side of the outline it belongs to, for reports
};

// Cells covered by one thing and the share of each that it covers, exact to round-off.
struct Coverage {
  std::vector<int> cells;        // indices in the grid
  std::vector<double> fractions; // of each of them, 0..1
};

// Topsoil that a design improves.
struct Amendment {
  double conductivity_factor = 1; // by which the topsoil's conductivity is multiplied
  double porosity_added = 0;      // m3/m3, all of it drains
  double depth_added = 0;         // m
};
struct Earthwork {          // what a design moves
  std::string name, kind;   // kind: "plane", "swale", "berm", "basin"
  double cut = 0, fill = 0; // m3 in place
};

// All that lies on the grid; fields have one entry a cell unless said.
struct Ground {
  Grid grid;       // where the cells lie
  Mask active;     // 1: inside the outline and not under a building
  Field elevation; // m
  // Under slabs: the ground as it would be without them [m], how thick the slab is and how deep its base [m];
  // elsewhere the elevation, 0 and 0. May be empty: no slabs.
  Field natural_elevation, slab_thickness, base_depth;
  Field manning_n;          // area-weighted
  Field manning_n_deep;     // where water stands twice as high as the vegetation [s/m^(1/3)]
  Field vegetation_height;  // m
  Field depression_storage; // m
  Field interception;       // m
  Field pervious;           // share of the cell that takes water in, 0..1
  Field jointed;            // share of the cell that is slab with joints, 0..1
  Field joint_intake;       // m/s over the cell that its joints let through
  std::vector<int> soil;    // index in Site::soils, by the largest share
  std::vector<int> cover;   // index in Site::areas by the largest share, -1 where the lawn is
  // Crests of walls standing on faces [m elevation]; minus infinity where there is none.
  Field crest_x;               // Grid::x_faces()
  Field crest_y;               // Grid::y_faces()
  std::vector<EdgeFace> edges; // limits of the yard
  std::vector<Coverage> areas; // one an area of the site: what of it is visible (not overlaid by a later one)
  std::vector<Coverage> buildings; // one a building: cells and shares of the footprint (inactive or not)
  Coverage beyond;                 // what of each cell lies outside the outline and under no building
  Field
      open_sky; // of a cell's area: how much of the open sky rains on it, see open_sky(); empty: 1 everywhere
  std::vector<Amendment> amendments;         // of a design
  std::vector<int> amended;                  // one a cell, index in amendments or -1; empty: none
  std::vector<Earthwork> earthworks;         // of a design
  double outside_hull_share = 0;             // share of active cells outside the hull of the shots
  std::vector<std::string> warnings;         // sentences
  std::vector<site::Assumption> assumptions; // e.g. how holes of a raster were dealt with
};

// Builds the ground. `cell` overrides the site's cell size when it is a number [m].
// Throws InputError for ground data that cannot be used (missing, empty, all on one line, misses the yard).
Ground build_ground(const site::Site& site, double cell = site::not_given);

// Elevation of the ground [m] at a point, bilinear between cell centres and carried on from them to the limit
// of the grid, of the yard and of buildings; beyond the grid that of its limit.
double elevation_at(const Ground& ground, const Point& at);

} // namespace lowspot::terrain
