#include <lowspot/study/pipe_profile.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace lowspot::study {
namespace {

constexpr double hair = 1e-9; // m

// Places along a way: its corners, and between them no further apart than a cell.
struct Samples {
  std::vector<Point> at;
  std::vector<double> distance;
};

Samples sample_way(const Polyline& way, double spacing) {
  Samples samples;
  samples.at = {way.front()};
  samples.distance = {0};
  for (std::size_t k = 1; k < way.size(); ++k) {
    const Point &a = way[k - 1], &b = way[k];
    const double side = distance(a, b);
    const int pieces = std::max(1, static_cast<int>(std::ceil(side / spacing - hair)));
    const double before = samples.distance.back();
    for (int p = 1; p <= pieces; ++p) {
      const double share = static_cast<double>(p) / pieces;
      samples.at.push_back(p == pieces ? b : Point{a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)});
      samples.distance.push_back(before + share * side);
    }
  }
  return samples;
}

// Whether water that comes out of the ground at a place runs on over it to the end.
bool runs_on(const std::vector<double>& ground, std::size_t from) {
  for (std::size_t k = from + 1; k < ground.size(); ++k)
    if (ground[k] > ground[k - 1] + 1e-3) return false;
  return true;
}

// From the start of the run-out straight to the outlet. Where the ground falls away below the pipe it ends,
// if water runs on from there; in a hollow it is pressed down instead, and falls on from there.
void finish_run_out(PipeProfile& profile, std::size_t last_covered, double level, double least_fall) {
  const std::size_t end = profile.invert.size() - 1;
  const double from = profile.invert[last_covered];
  const double reach = profile.distance[end] - profile.distance[last_covered];
  const double highest_end = from - least_fall * reach;
  const double goal = std::min(highest_end, std::max(level, profile.ground[end]));
  for (std::size_t k = last_covered + 1; k <= end; ++k) {
    const double share = (profile.distance[k] - profile.distance[last_covered]) / reach;
    const double straight = from + share * (goal - from);
    const double falling =
        profile.invert[k - 1] - least_fall * (profile.distance[k] - profile.distance[k - 1]);
    profile.invert[k] = std::min(straight, falling);
    if (k == end || profile.ground[k] > profile.invert[k]) continue;
    if (runs_on(profile.ground, k)) {
      std::copy(profile.ground.begin() + static_cast<std::ptrdiff_t>(k), profile.ground.end(),
                profile.invert.begin() + static_cast<std::ptrdiff_t>(k));
      return;
    }
    profile.invert[k] = profile.ground[k];
  }
  if (profile.invert[end] < level - hair)
    profile.margin = std::min(profile.margin, profile.invert[end] - level);
}

} // namespace

bool line_is_open(const ReachGround& ground, const Point& a, const Point& b) {
  const Grid& grid = ground.grid;
  const auto open = [&](int i, int j) { return grid.inside(i, j) && ground.open[grid.index(i, j)]; };
  const auto column = [&](double x) { return static_cast<int>(std::floor((x - grid.x0) / grid.cell)); };
  const auto row = [&](double y) { return static_cast<int>(std::floor((y - grid.y0) / grid.cell)); };
  int i = column(a.x), j = row(a.y);
  const int last_i = column(b.x), last_j = row(b.y);
  if (!open(i, j) || !open(last_i, last_j)) return false;
  const int step_i = b.x > a.x ? 1 : -1, step_j = b.y > a.y ? 1 : -1;
  const double dx = std::abs(b.x - a.x), dy = std::abs(b.y - a.y);
  constexpr double none = std::numeric_limits<double>::infinity();
  const double per_i = dx > 0 ? grid.cell / dx : none, per_j = dy > 0 ? grid.cell / dy : none;
  const double side_x = grid.x0 + (i + (step_i > 0)) * grid.cell,
               side_y = grid.y0 + (j + (step_j > 0)) * grid.cell;
  double next_i = dx > 0 ? std::abs(side_x - a.x) / dx : none;
  double next_j = dy > 0 ? std::abs(side_y - a.y) / dy : none;
  while (i != last_i || j != last_j) {
    if (std::min(next_i, next_j) > 1 + hair) break;
    if (std::abs(next_i - next_j) < hair) { // through a corner: both neighbours must be open
      if (!open(i + step_i, j) || !open(i, j + step_j)) return false;
      i += step_i, j += step_j;
      next_i += per_i, next_j += per_j;
    } else if (next_i < next_j) {
      i += step_i;
      next_i += per_i;
    } else {
      j += step_j;
      next_j += per_j;
    }
    if (!open(i, j)) return false;
  }
  return true;
}

double ground_at(const ReachGround& ground, const Point& at) {
  const Grid& grid = ground.grid;
  const long own = cell_at(grid, at.x, at.y);
  if (own < 0 || !ground.open[own]) return std::numeric_limits<double>::quiet_NaN();
  const double u = (at.x - grid.x0) / grid.cell - 0.5, v = (at.y - grid.y0) / grid.cell - 0.5;
  const int i = static_cast<int>(std::floor(u)), j = static_cast<int>(std::floor(v));
  double sum = 0, weights = 0;
  for (int b = 0; b < 2; ++b)
    for (int a = 0; a < 2; ++a) {
      if (!grid.inside(i + a, j + b) || !ground.open[grid.index(i + a, j + b)]) continue;
      const double weight = (a ? u - i : 1 - (u - i)) * (b ? v - j : 1 - (v - j));
      sum += weight * ground.elevation[grid.index(i + a, j + b)];
      weights += weight;
    }
  return weights > hair ? sum / weights : ground.elevation[own];
}

std::optional<PipeProfile> lay_pipe(const ReachGround& ground, const Polyline& way, double start_invert,
                                    double level, const site::ReachRules& rules) {
  for (std::size_t k = 1; k < way.size(); ++k)
    if (!line_is_open(ground, way[k - 1], way[k])) return std::nullopt;
  const Samples samples = sample_way(way, ground.grid.cell);
  PipeProfile profile;
  profile.distance = samples.distance;
  const std::size_t count = samples.at.size();
  profile.ground.resize(count);
  profile.invert.resize(count);
  for (std::size_t k = 0; k < count; ++k) profile.ground[k] = ground_at(ground, samples.at[k]);
  profile.length = samples.distance.back();
  profile.fall_available = start_invert - level;

  const double buried = rules.cover + rules.pipe;
  const double covered_to = profile.length - rules.run_out;
  profile.invert[0] = start_invert;
  std::size_t last_covered = 0;
  for (std::size_t k = 1; k < count && samples.distance[k] <= covered_to + hair; ++k) {
    const double falling =
        profile.invert[k - 1] - rules.least_fall * (samples.distance[k] - samples.distance[k - 1]);
    profile.invert[k] = std::min(falling, profile.ground[k] - buried);
    last_covered = k;
  }
  profile.margin = profile.invert[last_covered] -
                   rules.least_fall * (profile.length - samples.distance[last_covered]) - level;
  if (last_covered + 1 < count) finish_run_out(profile, last_covered, level, rules.least_fall);

  for (std::size_t k = 0; k < count; ++k) {
    const double cut = profile.ground[k] - profile.invert[k];
    profile.deepest_cut = std::max(profile.deepest_cut, cut);
    if (k == 0) continue;
    const double before = profile.ground[k - 1] - profile.invert[k - 1];
    const double volume = std::max(0.0, 0.5 * (cut + before)) * rules.trench_width *
                          (samples.distance[k] - samples.distance[k - 1]);
    const Point middle{0.5 * (samples.at[k].x + samples.at[k - 1].x),
                       0.5 * (samples.at[k].y + samples.at[k - 1].y)};
    const long cell = cell_at(ground.grid, middle.x, middle.y);
    profile.excavation += volume;
    profile.cost += volume * (cell >= 0 ? ground.dearness[cell] : 1);
  }
  for (std::size_t k = count; k-- > 0;) {
    if (profile.ground[k] - profile.invert[k] >= buried - 1e-6) break;
    profile.shallow_end = profile.length - profile.distance[k];
  }
  return profile;
}

} // namespace lowspot::study
