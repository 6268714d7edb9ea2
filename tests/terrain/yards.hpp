// Small yards and grounds for the tests.
#pragma once
#include <cmath>
#include <filesystem>
#include <fstream>
#include <functional>
#include <limits>
#include <string>

#include <lowspot/base/error.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::terrain {

inline Polygon rectangle(double x0, double y0, double x1, double y1) {
  return {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}};
}

inline std::filesystem::path scratch_folder() {
  const std::filesystem::path folder = std::filesystem::temp_directory_path() / "lowspot_terrain_test";
  std::filesystem::create_directories(folder);
  return folder;
}

inline void write_file(const std::string& name, const std::string& content) {
  std::ofstream(scratch_folder() / name) << content;
}

// A yard in metres with one soil and a lawn; no ground data yet.
inline site::Site plain_site(const Polygon& outline, double cell) {
  site::Site site;
  site.units = "m";
  site.unit = 1;
  site.outline = outline;
  site.cell = cell;
  site.folder = scratch_folder();
  site.file = scratch_folder() / "site.toml";
  site.soils.resize(2);
  site.lawn.name = "lawn";
  site.lawn.manning_n = 0.2;
  site.lawn.manning_n_deep = 0.1;
  site.lawn.vegetation_height = 0.05;
  site.lawn.depression_storage = 0.004;
  site.lawn.interception = 0.001;
  return site;
}

inline site::Area patio(const Polygon& outline) {
  site::Area area;
  area.name = "patio";
  area.outline = outline;
  area.manning_n = 0.013;
  area.manning_n_deep = 0.013;
  area.depression_storage = 0.001;
  area.impervious = true;
  return area;
}

// Breaklines that carry the plane z = a + b x + c y over a rectangle.
inline void lay_plane(site::Site& site, double a, double b, double c) {
  const Box box = bounds(site.outline);
  auto point = [&](double x, double y) { return Point3{x, y, a + b * x + c * y}; };
  site.ground.breaklines = {{point(box.low.x, box.low.y), point(box.high.x, box.low.y)},
                            {point(box.low.x, box.high.y), point(box.high.x, box.high.y)}};
}

// A ground of given elevations, all of it active, closed all round unless opened.
inline Ground bare_ground(int nx, int ny, double cell, const std::function<double(int, int)>& elevation) {
  Ground ground;
  ground.grid = {nx, ny, cell, 0, 0};
  ground.active.assign(ground.grid.cells(), 1);
  ground.elevation.resize(ground.grid.cells());
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) ground.elevation[ground.grid.index(i, j)] = elevation(i, j);
  constexpr double none = -std::numeric_limits<double>::infinity();
  ground.crest_x.assign(ground.grid.x_faces(), none);
  ground.crest_y.assign(ground.grid.y_faces(), none);
  return ground;
}

inline void open_side(Ground& ground, Side side) {
  const Grid& grid = ground.grid;
  const bool across = side == Side::west || side == Side::east;
  for (int k = 0; k < (across ? grid.ny : grid.nx); ++k) {
    const int i = side == Side::west ? 0 : side == Side::east ? grid.nx - 1 : k;
    const int j = side == Side::south ? 0 : side == Side::north ? grid.ny - 1 : k;
    ground.edges.push_back({static_cast<int>(grid.index(i, j)), side, true, side});
  }
}

template <class Action>
std::string problem_of(Action action) {
  try {
    action();
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

} // namespace lowspot::terrain
