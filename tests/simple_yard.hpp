// Yards made in memory for tests: a rectangle whose ground is any function of x and y, one cover, one soil.
#pragma once
#include <functional>
#include <string>

#include <lowspot/rain/hyetograph.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

struct SimpleYard {
  lowspot::site::Site site;
  lowspot::terrain::Ground ground;
  lowspot::rain::Hyetograph rain;
};

// nx by ny cells of `cell` metres; impervious with Manning's n 0.025; all four sides walls. No plants, no
// evaporation.
SimpleYard simple_yard(int nx, int ny, double cell, const std::function<double(double, double)>& elevation);

inline void open_side(SimpleYard& yard, lowspot::terrain::Side side) {
  for (lowspot::terrain::EdgeFace& edge : yard.ground.edges)
    if (edge.side == side) edge.open = true;
}

// The whole yard takes water in.
inline void make_pervious(SimpleYard& yard) {
  yard.site.lawn.impervious = false;
  yard.ground.pervious.assign(yard.ground.grid.cells(), 1.0);
}

inline void rain_at(SimpleYard& yard, double intensity, double duration) {
  yard.rain.time = {0, duration};
  yard.rain.intensity = {intensity};
}

// An area over the columns [from, to), for results by area.
inline void add_strip(SimpleYard& yard, const std::string& name, int from, int to) {
  lowspot::site::Area area;
  area.name = name;
  yard.site.areas.push_back(area);
  lowspot::terrain::Coverage coverage;
  for (std::size_t c = 0; c < yard.ground.grid.cells(); ++c)
    if (yard.ground.grid.column(c) >= from && yard.ground.grid.column(c) < to) {
      coverage.cells.push_back(static_cast<int>(c));
      coverage.fractions.push_back(1.0);
    }
  yard.ground.areas.push_back(coverage);
}

// The same over the whole yard.
inline void add_whole_area(SimpleYard& yard, const std::string& name) {
  add_strip(yard, name, 0, yard.ground.grid.nx);
  yard.site.areas.back().outline = yard.site.outline;
}

// A trench with a pipe across the middle of the yard from west to east, out through the east side.
lowspot::site::Design simple_drain(const SimpleYard& yard, double depth = 0.4);
