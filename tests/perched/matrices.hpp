// Random systems of the perched zone, and the same as an Eigen matrix for reference.
#pragma once
#include <random>

#include <Eigen/Sparse>

#include <lowspot/perched/stencil.hpp>

namespace matrices {

using namespace lowspot;

inline perched::Stencil random_system(unsigned seed, int nx, int ny, double retained, double carried) {
  std::mt19937 generator(seed);
  std::uniform_real_distribution<double> unit(0, 1);
  perched::Stencil s = perched::make_stencil(perched::make_frame(nx, ny));
  for (int j = 0; j < ny; ++j) {
    for (int i = 0; i < nx; ++i) {
      const std::ptrdiff_t k = s.frame.index(i, j);
      s.retained[k] = retained * (0.5 + unit(generator));
      const double east = unit(generator), north = unit(generator);
      if (i + 1 < nx) {
        s.east_out[k] = east + carried * unit(generator);
        s.east_back[k] = east;
      }
      if (j + 1 < ny) {
        s.north_out[k] = north;
        s.north_back[k] = north + carried * unit(generator);
      }
    }
  }
  complete(s);
  return s;
}

inline Eigen::SparseMatrix<double> sparse(const perched::Stencil& s) {
  std::vector<Eigen::Triplet<double>> entries;
  const int nx = s.frame.nx, ny = s.frame.ny;
  for (int j = 0; j < ny; ++j) {
    for (int i = 0; i < nx; ++i) {
      const std::ptrdiff_t k = s.frame.index(i, j);
      const int row = j * nx + i;
      entries.emplace_back(row, row, s.retained[k]);
      const auto face = [&](int other, double out, double back) {
        entries.emplace_back(row, row, out);
        entries.emplace_back(row, other, -back);
        entries.emplace_back(other, row, -out);
        entries.emplace_back(other, other, back);
      };
      if (i + 1 < nx) face(row + 1, s.east_out[k], s.east_back[k]);
      if (j + 1 < ny) face(row + nx, s.north_out[k], s.north_back[k]);
    }
  }
  Eigen::SparseMatrix<double> matrix(nx * ny, nx * ny);
  matrix.setFromTriplets(entries.begin(), entries.end());
  return matrix;
}

inline Field random_field(unsigned seed, const perched::Frame& frame) {
  std::mt19937 generator(seed);
  std::uniform_real_distribution<double> unit(-1, 1);
  Field field(frame.size(), 0.0);
  for (int j = 0; j < frame.ny; ++j)
    for (int i = 0; i < frame.nx; ++i) field[frame.index(i, j)] = unit(generator);
  return field;
}

inline Eigen::VectorXd dense(const perched::Frame& frame, const Field& field) {
  Eigen::VectorXd vector(frame.nx * frame.ny);
  for (int j = 0; j < frame.ny; ++j)
    for (int i = 0; i < frame.nx; ++i) vector[j * frame.nx + i] = field[frame.index(i, j)];
  return vector;
}

} // namespace matrices
