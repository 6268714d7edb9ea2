#include <lowspot/surface/pool.hpp>

#include <algorithm>

namespace lowspot::surface {
namespace {

double mobile_volume(const std::vector<PoolCell>& cells) {
  double volume = 0;
  for (const PoolCell& cell : cells) volume += cell.depth - cell.storage;
  return volume;
}

// Lays a level over the cells that are to share it.
void set_level(std::vector<PoolCell>& cells, double level) {
  for (PoolCell& cell : cells) cell.depth = cell.storage + std::max(level - cell.bed, 0.0);
}

// When each cell falls dry, counted from the highest [s]; dt for those that do not. Cells ascending by bed.
std::vector<double> drying_times(const std::vector<PoolCell>& cells, double level, double dt) {
  std::vector<double> dry_at(cells.size(), dt);
  std::size_t wet = cells.size();
  double rate = 0; // sum over the cells that feed or draw on the pool [m/s]
  for (const PoolCell& cell : cells) rate += cell.supply - cell.sink;
  double time = 0;
  while (wet > 0 && rate < 0) {
    const PoolCell& highest = cells[wet - 1];
    const double lasts = std::max(level - highest.bed, 0.0) * static_cast<double>(wet) / -rate;
    if (time + lasts >= dt) break;
    time += lasts;
    level = std::min(level, highest.bed);
    --wet;
    const double net = highest.supply - highest.sink;
    if (net >= 0) continue; // goes on feeding the pool
    dry_at[wet] = time;
    rate -= net;
  }
  return dry_at;
}

} // namespace

double level_holding(const std::vector<PoolCell>& ascending, double volume) {
  double beds = 0;
  double level = ascending.empty() ? 0.0 : ascending.front().bed;
  for (std::size_t k = 0; k < ascending.size(); ++k) {
    beds += ascending[k].bed;
    level = (volume + beds) / static_cast<double>(k + 1);
    if (k + 1 == ascending.size() || level <= ascending[k + 1].bed) break;
  }
  return level;
}

double advance_pool(std::vector<PoolCell>& cells, double dt) {
  std::sort(cells.begin(), cells.end(), [](const PoolCell& a, const PoolCell& b) {
    return a.bed != b.bed ? a.bed < b.bed : a.cell < b.cell;
  });
  const double start = level_holding(cells, mobile_volume(cells));
  const std::vector<double> dry_at = drying_times(cells, start, dt);
  // Cells that fall dry drain on their own; the pool keeps the rest, so that no rounding is lost between
  // them.
  std::vector<PoolCell> under;
  double volume = 0;
  for (std::size_t k = 0; k < cells.size(); ++k) {
    PoolCell& cell = cells[k];
    const double offered = cell.depth + cell.supply * dt;
    if (dry_at[k] >= dt) {
      cell.taken = cell.sink * dt;
      volume += offered - cell.taken - cell.storage;
      under.push_back(cell);
      continue;
    }
    const double alone = dt - dry_at[k];
    const double own = std::min(cell.sink * alone, cell.storage + cell.supply * alone);
    cell.taken = cell.sink * dry_at[k] + own;
    const double kept = cell.storage + cell.supply * alone - own;
    volume += offered - cell.taken - kept;
    cell.depth = kept;
  }
  if (under.empty()) {
    // All dry: what rounding left over stays on the lowest cell.
    cells.front().depth = std::max(cells.front().depth + volume, 0.0);
    return cells.front().bed;
  }
  const double level = level_holding(under, volume);
  set_level(under, level);
  std::size_t next = 0;
  for (std::size_t k = 0; k < cells.size(); ++k)
    if (dry_at[k] >= dt) cells[k].depth = under[next++].depth;
  return level;
}

bool extend_pool(std::vector<PoolCell>& ascending, const PoolCell& cell, double& level) {
  std::vector<PoolCell> more = ascending;
  const auto at = std::upper_bound(more.begin(), more.end(), cell,
                                   [](const PoolCell& a, const PoolCell& b) { return a.bed < b.bed; });
  more.insert(at, cell);
  const double raised = level_holding(more, mobile_volume(more));
  if (raised < cell.bed) return false;
  set_level(more, raised);
  level = raised;
  ascending = std::move(more);
  return true;
}

} // namespace lowspot::surface
