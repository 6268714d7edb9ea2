#include <lowspot/terrain/holes.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace lowspot::terrain {
namespace {

// The membrane's equations at the holes: neighbours[k] lists holes (as positions in the list), -1 where the
// neighbour is no hole; the known ones are summed in `known`.
struct Membrane {
  std::vector<std::size_t> cells;
  std::vector<std::array<int, 4>> neighbours;
  std::vector<double> known;
  std::vector<double> degree;
};

Membrane set_up(const std::vector<double>& values, const std::vector<std::size_t>& holes, int nx, int ny) {
  Membrane membrane;
  membrane.cells = holes;
  std::vector<int> place(values.size(), -1);
  for (std::size_t k = 0; k < holes.size(); ++k) place[holes[k]] = static_cast<int>(k);
  membrane.neighbours.assign(holes.size(), {-1, -1, -1, -1});
  membrane.known.assign(holes.size(), 0);
  membrane.degree.assign(holes.size(), 0);
  for (std::size_t k = 0; k < holes.size(); ++k) {
    const int i = static_cast<int>(holes[k] % nx), j = static_cast<int>(holes[k] / nx);
    auto look = [&](bool exists, std::size_t other, int slot) {
      if (!exists) return;
      membrane.degree[k] += 1;
      membrane.neighbours[k][slot] = place[other];
      if (place[other] < 0) membrane.known[k] += values[other];
    };
    look(i > 0, holes[k] - 1, 0);
    look(i + 1 < nx, holes[k] + 1, 1);
    look(j > 0, holes[k] - nx, 2);
    look(j + 1 < ny, holes[k] + nx, 3);
  }
  return membrane;
}

void apply(const Membrane& membrane, const std::vector<double>& x, std::vector<double>& y) {
  for (std::size_t k = 0; k < x.size(); ++k) {
    double sum = membrane.degree[k] * x[k];
    for (int other : membrane.neighbours[k])
      if (other >= 0) sum -= x[other];
    y[k] = sum;
  }
}

double dot(const std::vector<double>& a, const std::vector<double>& b) {
  double sum = 0;
  for (std::size_t k = 0; k < a.size(); ++k) sum += a[k] * b[k];
  return sum;
}

void relax(const Membrane& membrane, std::vector<double>& x) {
  const std::size_t n = x.size();
  std::vector<double> residual(n), direction(n), image(n);
  apply(membrane, x, image);
  for (std::size_t k = 0; k < n; ++k) residual[k] = membrane.known[k] - image[k];
  direction = residual;
  double square = dot(residual, residual);
  // A residual of e in a hole of n cells leaves an error of the order of e n.
  const double enough = std::max(1e-6 / static_cast<double>(n), 1e-11);
  const int most = 200 + 4 * static_cast<int>(std::sqrt(static_cast<double>(n)));
  for (int step = 0; step < most && square > enough * enough; ++step) {
    apply(membrane, direction, image);
    const double length = square / dot(direction, image);
    for (std::size_t k = 0; k < n; ++k) {
      x[k] += length * direction[k];
      residual[k] -= length * image[k];
    }
    const double next = dot(residual, residual);
    const double keep = next / square;
    for (std::size_t k = 0; k < n; ++k) direction[k] = residual[k] + keep * direction[k];
    square = next;
  }
}

std::vector<double> halved(const std::vector<double>& values, int nx, int ny, int half_x, int half_y) {
  std::vector<double> coarse(static_cast<std::size_t>(half_x) * half_y);
  for (int j = 0; j < half_y; ++j)
    for (int i = 0; i < half_x; ++i) {
      double sum = 0;
      int known = 0;
      for (int b = 2 * j; b < std::min(2 * j + 2, ny); ++b)
        for (int a = 2 * i; a < std::min(2 * i + 2, nx); ++a) {
          const double value = values[static_cast<std::size_t>(b) * nx + a];
          if (std::isnan(value)) continue;
          sum += value;
          ++known;
        }
      coarse[static_cast<std::size_t>(j) * half_x + i] =
          known > 0 ? sum / known : std::numeric_limits<double>::quiet_NaN();
    }
  return coarse;
}

} // namespace

std::size_t fill_holes(std::vector<double>& values, int nx, int ny) {
  std::vector<std::size_t> holes;
  for (std::size_t c = 0; c < values.size(); ++c)
    if (std::isnan(values[c])) holes.push_back(c);
  if (holes.empty() || holes.size() == values.size()) return 0;
  const int half_x = (nx + 1) / 2, half_y = (ny + 1) / 2;
  std::vector<double> coarse = halved(values, nx, ny, half_x, half_y);
  fill_holes(coarse, half_x, half_y);
  const Membrane membrane = set_up(values, holes, nx, ny);
  std::vector<double> x(holes.size());
  for (std::size_t k = 0; k < holes.size(); ++k)
    x[k] = coarse[(holes[k] / nx / 2) * half_x + (holes[k] % nx) / 2];
  relax(membrane, x);
  for (std::size_t k = 0; k < holes.size(); ++k) values[holes[k]] = x[k];
  return holes.size();
}

} // namespace lowspot::terrain
