// The arrays behind Flow: the ground prepared for the kernels, and scratch.
#pragma once
#include <algorithm>
#include <vector>

#include <lowspot/base/field.hpp>
#include <lowspot/surface/face_kernel.hpp>
#include <lowspot/surface/flow.hpp>
#include <lowspot/surface/frame.hpp>

namespace lowspot::surface {

// Kernels may read, not write, this many numbers before the first and beyond the last of a double field.
constexpr int overrun = Frame::vector;

// The sill of faces of inactive cells and of the limit of the grid: no water passes.
constexpr double no_passage = 1e30; // m

// An open face with what its discharge depends on. Cells are -1 where there is none.
struct Outfall {
  int cell = 0;              // index in the grid
  bool along_x = true;       // it faces west or east
  std::size_t face = 0;      // in framed arrays
  double direction = 1;      // +1 when flow out of the yard is positive
  double sill = 0;           // m above the datum
  double wall = 0;           // m: how high a crest there stands above the ground
  double fall = 0;           // m/m: slope of the ground outward, at right angles to the limit
  double face_fall = 0;      // m/m: the same through the face
  double share = 1;          // m of limit that a metre of the face stands for
  int inner = -1;            // the cell behind, against the direction of flow
  int left = -1, right = -1; // the cells beside; the cell itself at a wall
  int beyond = -1;           // the inactive cell outside, when it is on the grid
};

// A field that may be read a little beyond either end.
struct PaddedField {
  // Copies the values in; the margins keep what they have.
  void assign(const Field& field) {
    values.assign(field.size() + 2 * overrun, 0.0);
    for (std::size_t c = 0; c < field.size(); ++c) values[c + overrun] = field[c];
  }
  double& operator[](std::size_t cell) { return values[cell + overrun]; }
  const double& operator[](std::size_t cell) const { return values[cell + overrun]; }
  Aligned<double> values; // with `overrun` numbers before and after the field
};

// One of the faces that a line crosses.
struct Crossing {
  int line = 0;         // index in Terrain::lines
  std::size_t face = 0; // in framed arrays
  bool along_x = true;  // it faces west or east
  double weight = 1;    // as in FaceSet
};

// What crossed each face over some steps, per width, in framed arrays.
struct PassedWater {
  // Nothing yet, in framed arrays of this size.
  void clear(std::size_t size) {
    for (Aligned<double>* sums : {&x, &y, &x_next, &y_next}) sums->assign(size, 0.0);
    time = 0;
    steps = 0;
  }
  // Takes the sums that include a group of steps, of dt [s] each.
  void accept(int count, double dt) {
    x.swap(x_next);
    y.swap(y_next);
    time += count * dt;
    steps += count;
  }
  Aligned<double> x, y;           // m2, over west and south faces
  Aligned<double> x_next, y_next; // m2, the same with a group of steps that may yet be taken back
  double time = 0;                // s that it took
  int steps = 0;                  // in that time
};

// The numbers that a full step leaves for the quick ones after it, in framed arrays.
struct KeptNumbers {
  Aligned<float> force, friction, transverse, follow, upper; // as in Kept
  // From a face on.
  Kept at(std::size_t face) {
    return {&force[face], &friction[face], &transverse[face], &follow[face], &upper[face]};
  }
};

// The largest celerities squared of the faces that look along x and along y.
struct Celerities {
  double x = 0; // m2/s2
  double y = 0; // m2/s2
  // No less than the other's from then on.
  void raise(const Celerities& other) {
    x = std::max(x, other.x);
    y = std::max(y, other.y);
  }
};

// What a Flow works with between its steps.
struct Workspace {
  // Memory for a ground of this size.
  Workspace(const Terrain& terrain, const Options& options);

  double datum = 0;            // m: elevations are kept relative to the lowest cell
  Field bed;                   // m above the datum, depression storage included
  Aligned<double> storage;     // m
  PaddedField level;           // m above the datum: mobile water surface, the bed where there is none
  Field sill_x, sill_y;        // m above the datum
  Field roughness_thin;        // the same, shallower than half the vegetation
  Field log_ratio;             // ln(deep / thin)
  Field vegetation;            // m, height
  std::vector<float> row_bend; // 1/m: the largest of `bend` in each row, 0 where nothing grows
  std::vector<char> row_bent;  // 0: all vegetation of the row stands upright
  Frame frame;                 // of the arrays of floats
  Aligned<float> mobile;       // m of water that can flow, with a column on either side like the next
  Aligned<float> change;       // m: of the level in the last step
  Aligned<float> n_squared;    // of Manning, at the present depth; by these, see bent_roughness():
  Aligned<float> n_squared_thin, n_squared_log_ratio, bend; // s2/m^(2/3), none, 1/m
  Aligned<float> softening;                                 // 1/m: see RoughnessRow
  // m: how far the sill of a face lies above the bed of the cell before it (west, south) and after it
  Aligned<float> rise_x_before, rise_x_after, rise_y_before, rise_y_after;
  std::vector<char> walls_x, walls_y;     // 1: the sill of some west or south face of the row lies above both
  Aligned<float> q_x, q_y;                // m2/s
  Aligned<float> q_x_next, q_y_next;      // m2/s
  Aligned<float> q_x_third, q_y_third;    // m2/s: scratch, or what Undo keeps
  KeptNumbers kept_x, kept_y;             // between steps of one group
  Aligned<float> shares;                  // of its outflow that a cell can feed
  Aligned<double> supply, sink;           // m/s, zero on inactive cells
  std::vector<char> limited;              // rows in which a cell could not feed its outflow
  std::vector<Outfall> outfalls;          // row by row
  std::vector<int> outfall_rows;          // first outfall of each row, one more at the end
  std::vector<std::size_t> outfall_order; // index in Terrain::open_faces
  std::vector<int> beyond, beyond_rows;   // inactive cells outside open faces; first of each row, one more
  std::vector<Crossing> crossings;        // of Terrain::lines, row by row
  std::vector<int> crossing_rows;         // first of each row, one more
  double deepest = 0;                     // m of mobile water
  Celerities celerities;                  // of the last steps
  double step = 0;                        // s, the last one
  double rushing = 0;                     // share of the faces with water that quick steps find in full

  std::size_t framed(std::size_t cell) const { // place of a cell in framed arrays
    return frame.at(static_cast<int>(cell % columns), static_cast<int>(cell / columns));
  }
  void set_mobile(std::size_t cell, double depth); // and the level and the roughness
  // Gives the numbers before and after a row the depths of its ends, as faces at the limit see them.
  void pad_mobile(int row);
  // Faces as in Grid from a framed array.
  void unpack_x(const Aligned<float>& framed_faces, Field& faces) const;
  void unpack_y(const Aligned<float>& framed_faces, Field& faces) const;

private:
  std::size_t columns = 0, rows = 0;
};

// Manning's n squared for a depth: constant up to half the height of the vegetation, then falling so that its
// logarithm is linear in depth, constant again above twice the height.
double roughness_at(double depth, double thin, double log_ratio, double height);

} // namespace lowspot::surface
