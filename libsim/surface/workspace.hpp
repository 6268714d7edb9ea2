// The arrays behind Flow: the ground prepared for the kernels, and scratch.
#pragma once
#include <vector>

#include <lowspot/base/field.hpp>
#include <lowspot/surface/flow.hpp>

namespace lowspot::surface {

// Kernels may read, not write, this many numbers beyond the end of a row.
constexpr int overrun = 8;

// Where mobile water stops being a film: no face of an inactive cell or the limit of the grid lets water
// pass.
constexpr double no_passage = 1e30; // m

// An open face with what its discharge depends on. Cells are -1 where there is none.
struct Outfall {
  int cell = 0;
  bool along_x = true;
  std::size_t face = 0;
  double direction = 1;      // +1 when flow out of the yard is positive
  double sill = 0;           // m above the datum
  double fall = 0;           // m/m: slope of the bed outward
  int inner = -1;            // the cell behind, against the direction of flow
  int left = -1, right = -1; // the cells beside; the cell itself at a wall
  int beyond = -1;           // the inactive cell outside, when it is on the grid
};

struct Workspace {
  Workspace(const Terrain& terrain, const Options& options);

  double datum = 0;     // m: elevations are kept relative to the lowest cell
  Field bed;            // m above the datum, depression storage included
  Field storage;        // m
  Field level;          // m above the datum: mobile water surface, the bed where there is none
  Field sill_x, sill_y; // m above the datum
  Field mobile_padded;  // m of water that can flow, with a column on either side like the one next to it
  Field roughness;      // Manning's n squared, at the present depth
  Field roughness_thin; // the same, shallower than half the vegetation
  Field log_ratio;      // ln(deep / thin)
  Field vegetation;     // m, height
  std::vector<char> row_grows;            // 1: some cell of the row has vegetation
  Field q_x_next, q_y_next;               // m2/s
  Field supply, sink;                     // m/s, zero on inactive cells
  Field shares;                           // padded by a row and a cell on either side: see share()
  Field scratch;                          // squared speeds of a row
  std::vector<char> limited;              // rows in which a cell could not feed its outflow
  std::vector<Outfall> outfalls;          // row by row
  std::vector<int> outfall_rows;          // first outfall of each row, one more at the end
  std::vector<std::size_t> outfall_order; // index in Terrain::open_faces
  double deepest = 0;                     // m of mobile water
  double fastest_squared = 0;             // m2/s2, in the last step
  double step = 0;                        // s, the last one

  // First cell of a row; one more before it and after its end.
  double* mobile(int row) { return mobile_padded.data() + static_cast<std::size_t>(row) * pitch + 1; }
  const double* mobile(int row) const {
    return mobile_padded.data() + static_cast<std::size_t>(row) * pitch + 1;
  }
  void set_mobile(std::size_t cell, double depth); // and the level
  void pad_mobile(int row);
  double* share(std::size_t cell) { return shares.data() + padding + cell; }

private:
  int columns = 0;
  std::size_t pitch = 0;   // of mobile_padded
  std::size_t padding = 0; // of shares
};

// Manning's n squared for a depth: constant up to half the height of the vegetation, then falling so that its
// logarithm is linear in depth, constant again above twice the height.
double roughness_at(double depth, double thin, double log_ratio, double height);

} // namespace lowspot::surface
