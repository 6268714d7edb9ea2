#include <lowspot/surface/undo.hpp>

#include <algorithm>
#include <utility>

#include <lowspot/surface/sweep.hpp>

namespace lowspot::surface {

void Undo::begin(const Grid& grid, const Workspace& work, const Water& water) {
  depth_.resize(grid.cells());
  taken_.resize(grid.cells());
  change_.resize(grid.cells());
  left_ = water.left;
  crossed_ = water.crossed;
  deepest_ = work.deepest;
  step_ = work.step;
  celerities_ = work.celerities;
  rushing_ = work.rushing;
}

void Undo::keep(CellRow& row, std::size_t cell) {
  row.depth_before = &depth_[cell];
  row.taken_before = &taken_[cell];
  row.change_before = &change_[cell];
}

void Undo::restore(const Grid& grid, const Tiles& tiles, Workspace& work, const Water& water) const {
  for (int j = 0; j < grid.ny; ++j) {
    for (const Span& span : tiles.changing_in(j)) {
      const std::size_t cell = grid.index(span.begin, j), at = work.frame.at(span.begin, j);
      const int count = span.end - span.begin;
      std::copy_n(&depth_[cell], count, &water.depth[cell]);
      std::copy_n(&taken_[cell], count, &water.taken[cell]);
      std::copy_n(&change_[cell], count, &work.change[at]);
      for (int i = 0; i < count; ++i) { // as the volume balance does it
        const double mobile = std::max(water.depth[cell + i] - work.storage[cell + i], 0.0);
        work.mobile[at + i] = static_cast<float>(mobile);
        work.level[cell + i] = work.bed[cell + i] + mobile;
      }
      work.row_bent[j] = 1;
      bend_vegetation(work, j, span.begin, span.end, 0.0f);
    }
    work.pad_mobile(j);
  }
  std::swap(work.q_x, work.q_x_third);
  std::swap(work.q_y, work.q_y_third);
  water.left = left_;
  water.crossed = crossed_;
  work.deepest = deepest_;
  work.step = step_;
  work.celerities = celerities_;
  work.rushing = rushing_; // the next steps are quick or full by it
}

} // namespace lowspot::surface
