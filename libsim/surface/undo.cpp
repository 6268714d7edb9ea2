#include <lowspot/surface/undo.hpp>

#include <algorithm>

namespace lowspot::surface {
namespace {

// Rows of columns whose cells can change: work(row, begin, end).
template <class Work>
void each_stretch(const Grid& grid, const Tiles& tiles, const Work& work) {
  for (int j = 0; j < grid.ny; ++j)
    for (const Span& span : tiles.changing_in(j)) work(j, span.begin, span.end);
}

// The row above has its own south faces where it can change as well; kept twice, they are the same.
bool has_own_north_faces(const Grid& grid, int j) {
  return (j + 1) % Tiles::height == 0 || j + 1 == grid.ny;
}

} // namespace

void Undo::keep(const Grid& grid, const Tiles& tiles, const Workspace& work, const Water& water) {
  for (auto* kept : {&depth_, &taken_}) kept->clear();
  for (auto* kept : {&q_x_, &q_y_}) kept->clear();
  const auto append = [](auto& kept, const auto* from, int count) {
    kept.insert(kept.end(), from, from + count);
  };
  each_stretch(grid, tiles, [&](int j, int begin, int end) {
    const std::size_t cell = grid.index(begin, j), at = work.frame.at(begin, j);
    const int count = end - begin;
    append(depth_, &water.depth[cell], count);
    append(taken_, &water.taken[cell], count);
    append(q_x_, &work.q_x[at], count + 1);
    append(q_y_, &work.q_y[at], count);
    if (has_own_north_faces(grid, j)) append(q_y_, &work.q_y[at + work.frame.pitch], count);
  });
  left_ = water.left;
  crossed_ = water.crossed;
  deepest_ = work.deepest;
  celerity_squared_ = work.celerity_squared;
}

void Undo::restore(const Grid& grid, const Tiles& tiles, Workspace& work, const Water& water) const {
  const double *depth = depth_.data(), *taken = taken_.data();
  const float *q_x = q_x_.data(), *q_y = q_y_.data();
  const auto take = [](auto*& kept, auto* to, int count) {
    std::copy(kept, kept + count, to);
    kept += count;
  };
  each_stretch(grid, tiles, [&](int j, int begin, int end) {
    const std::size_t cell = grid.index(begin, j), at = work.frame.at(begin, j);
    const int count = end - begin;
    take(depth, &water.depth[cell], count);
    take(taken, &water.taken[cell], count);
    take(q_x, &work.q_x[at], count + 1);
    take(q_y, &work.q_y[at], count);
    if (has_own_north_faces(grid, j)) take(q_y, &work.q_y[at + work.frame.pitch], count);
    for (int i = 0; i < count; ++i) { // as the volume balance does it
      const double mobile = std::max(water.depth[cell + i] - work.storage[cell + i], 0.0);
      work.mobile[at + i] = static_cast<float>(mobile);
      work.level[cell + i] = work.bed[cell + i] + mobile;
    }
    work.pad_mobile(j);
  });
  water.left = left_;
  water.crossed = crossed_;
  work.deepest = deepest_;
  work.celerity_squared = celerity_squared_;
}

} // namespace lowspot::surface
