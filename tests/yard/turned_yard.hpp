// A rectangular yard whose sides lie aslant to the cells.
#pragma once
#include <cmath>
#include <functional>
#include <numbers>

#include <lowspot/terrain/edges.hpp>
#include <lowspot/terrain/yard_grid.hpp>

#include "simple_yard.hpp"

struct TurnedYard {
  SimpleYard yard;
  double cosine = 1, sine = 0;
  // From places in the yard, along and across, to those on the map and back.
  lowspot::Point on_map(double x, double y) const { return {x * cosine - y * sine, x * sine + y * cosine}; }
  lowspot::Point in_yard(double x, double y) const { return {x * cosine + y * sine, y * cosine - x * sine}; }
};

// `length` by `width` metres, turned about its first corner; elevation by places in the yard. All sides
// walls.
inline TurnedYard turned_yard(double length, double width, double degrees, double cell,
                              const std::function<double(double, double)>& elevation) {
  using namespace lowspot;
  TurnedYard made;
  made.cosine = std::cos(degrees * std::numbers::pi / 180);
  made.sine = std::sin(degrees * std::numbers::pi / 180);
  site::Site frame;
  frame.outline = {made.on_map(0, 0), made.on_map(length, 0), made.on_map(length, width),
                   made.on_map(0, width)};
  const Grid grid = terrain::make_grid(frame, cell);
  made.yard = simple_yard(grid.nx, grid.ny, cell, [&](double x, double y) { // of a grid that begins at 0, 0
    const Point at = made.in_yard(grid.x0 + x, grid.y0 + y);
    return elevation(at.x, at.y);
  });
  made.yard.site.outline = frame.outline;
  made.yard.ground.grid = grid;
  const auto kinds = terrain::cell_kinds(grid, made.yard.site);
  for (std::size_t c = 0; c < kinds.size(); ++c)
    made.yard.ground.active[c] = kinds[c] == terrain::CellKind::ground;
  made.yard.site.edges.otherwise = site::EdgeKind::wall;
  made.yard.ground.edges = terrain::find_edges(made.yard.site, grid, kinds);
  return made;
}
