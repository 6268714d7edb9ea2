#include <lowspot/surface/tags.hpp>

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include <lowspot/base/error.hpp>
#include <lowspot/surface/mixing.hpp>
#include <lowspot/surface/workspace.hpp>

namespace lowspot::surface {

// Rounding is swept out of the sums of shares once in this many steps.
static constexpr int steps_between_sweeps = 32;

Tags::Tags(const Terrain& terrain, int count, std::span<const double> depth, int present)
    : count_(count), columns_(terrain.grid.nx), rows_(terrain.grid.ny), cell_size_(terrain.grid.cell),
      padding_(terrain.grid.nx + 1), stride_(terrain.grid.cells() + 2 * padding_),
      depth_(depth.begin(), depth.end()), arriving_rows_(terrain.grid.ny + 1, 0), gate_begins_{0},
      grid_(terrain.grid), frame_(terrain.grid), order_(terrain.grid) {
  if (count < 1 || present < 0 || present >= count)
    throw NumericsError("surface: tags need at least one source, and one for the water that is there");
  if (depth.size() != terrain.grid.cells()) throw NumericsError("surface: depths do not fit the grid");
  now_.assign(stride_ * count, 0.0);
  std::fill_n(row(now_, present, 0), depth.size(), 1.0);
  next_ = now_;
  tile_columns_ = (columns_ + Tiles::width - 1) / Tiles::width;
  bands_ = (rows_ + Tiles::height - 1) / Tiles::height;
  const std::size_t tiles = static_cast<std::size_t>(tile_columns_) * bands_;
  holds_.assign(tiles * count, 0);
  changed_.assign(tiles, 0);
  spans_.resize(bands_);
  std::fill_n(holds_.begin() + static_cast<std::ptrdiff_t>(tiles * present), tiles, 1);
  find_near();
  per_total_.assign(depth.size(), 0.0);
  for (std::vector<double>* scratch : {&keep_, &from_west_, &from_east_, &from_south_, &from_north_})
    scratch->assign(columns_, 0.0);
}

std::span<const double> Tags::share(int tag) const {
  return {row(now_, tag, 0), depth_.size()};
}

void Tags::set_supply(const std::vector<TagSupply>& arriving) {
  if (arriving == given_) return; // rates seldom change
  std::fill(arriving_rows_.begin(), arriving_rows_.end(), 0);
  for (const TagSupply& entry : arriving) {
    if (entry.cell < 0 || static_cast<std::size_t>(entry.cell) >= depth_.size() || entry.tag < 0 ||
        entry.tag >= count_ || !(entry.rate >= 0))
      throw NumericsError("surface: a tagged supply has no such cell or source, or a negative rate");
    ++arriving_rows_[entry.cell / columns_ + 1];
  }
  for (int j = 0; j < rows_; ++j) arriving_rows_[j + 1] += arriving_rows_[j];
  std::vector<std::size_t> next(arriving_rows_.begin(), arriving_rows_.end() - 1);
  arriving_.resize(arriving.size());
  for (const TagSupply& entry : arriving) arriving_[next[entry.cell / columns_]++] = entry;
  arriving_at_.clear();
  for (const TagSupply& entry : arriving_)
    arriving_at_.push_back(static_cast<std::size_t>(entry.tag) * stride_ + padding_ + entry.cell);
  for (const TagSupply& entry : arriving)
    if (entry.rate > 0) hold(entry.tag, entry.cell);
  given_ = arriving;
  ++supplies_;
  checked_.clear();
}

void Tags::check_supply(std::span<const double> supply) {
  if (std::equal(supply.begin(), supply.end(), checked_.begin(), checked_.end())) return;
  Field unexplained(supply.begin(), supply.end());
  for (const TagSupply& entry : arriving_) unexplained[entry.cell] -= entry.rate;
  for (std::size_t c = 0; c < supply.size(); ++c)
    if (!(std::abs(unexplained[c]) <= 1e-12 * supply[c]))
      throw NumericsError("surface: the sources of what arrives on cell " + std::to_string(c) +
                          " do not sum to the supply");
  checked_.assign(supply.begin(), supply.end());
}

void Tags::watch(std::vector<Gate> gates) {
  inside_.clear();
  crossings_.clear();
  gate_begins_.assign(1, 0);
  const auto inside = [&](int i, int j) { return i >= 0 && j >= 0 && i < columns_ && j < rows_; };
  const auto add = [&](int face, double weight, bool along_x) {
    const int width = along_x ? columns_ + 1 : columns_;
    const int i = face % width, j = face / width;
    const int behind_i = along_x ? i - 1 : i, behind_j = along_x ? j : j - 1;
    crossings_.push_back({frame_.at(i, j), inside(behind_i, behind_j) ? behind_j * columns_ + behind_i : -1,
                          inside(i, j) ? j * columns_ + i : -1, along_x, weight});
  };
  for (Gate& gate : gates) {
    const FaceSet& faces = gate.faces;
    for (std::size_t f = 0; f < faces.x_faces.size(); ++f) add(faces.x_faces[f], faces.x_weights[f], true);
    for (std::size_t f = 0; f < faces.y_faces.size(); ++f) add(faces.y_faces[f], faces.y_weights[f], false);
    inside_.push_back(std::move(gate.inside));
    gate_begins_.push_back(crossings_.size());
  }
  with_.assign(gates.size() * count_, 0.0);
  against_ = with_;
}

void Tags::count_crossings(const PassedWater& passed) {
  for (std::size_t gate = 0; gate + 1 < gate_begins_.size(); ++gate)
    for (std::size_t f = gate_begins_[gate]; f < gate_begins_[gate + 1]; ++f) {
      const Crossing& face = crossings_[f];
      const double q = (face.along_x ? passed.x : passed.y)[face.face];
      const int giver = q > 0 ? face.behind : face.ahead;
      if (q == 0 || giver < 0) continue;
      const double volume = std::abs(q * face.weight) * cell_size_;
      std::vector<double>& sums = q * face.weight > 0 ? with_ : against_;
      for (int tag = 0; tag < count_; ++tag) sums[gate * count_ + tag] += volume * row(now_, tag, 0)[giver];
    }
}

// Per cell the supply of each source counts by its part of all the water there.
void Tags::add_supply(int j, double dt) {
  for (std::size_t k = arriving_rows_[j]; k < arriving_rows_[j + 1]; ++k)
    next_[arriving_at_[k]] += arriving_[k].rate * dt * per_total_[arriving_[k].cell];
}

// Mixes one source into a stretch of a row, in the tiles that it can have reached.
void Tags::mix_near(int tag, int j, int begin, const MixingRow& weights) {
  const double* here = row(now_, tag, j);
  double* mixed = row(next_, tag, j);
  const char* near = &near_[tile_of(tag, j * columns_)];
  const int end = begin + weights.count;
  for (int i = begin; i < end;) {
    int stop = i;
    const bool some = near[i / Tiles::width] != 0;
    while (stop < end && (near[stop / Tiles::width] != 0) == some)
      stop = std::min((stop / Tiles::width + 1) * Tiles::width, end);
    if (some)
      mix_row(weights_of_part(weights, i - begin, stop - i), here + i, here + i - columns_,
              here + i + columns_, mixed + i);
    i = stop;
  }
}

// A source reaches a tile from the four beside it, a cell a step.
void Tags::find_near() {
  near_ = holds_;
  for (int tag = 0; tag < count_; ++tag)
    for (int b = 0; b < bands_; ++b)
      for (int a = 0; a < tile_columns_; ++a) {
        const std::size_t at = (static_cast<std::size_t>(tag) * bands_ + b) * tile_columns_ + a;
        if (!holds_[at]) continue;
        if (a > 0) near_[at - 1] = 1;
        if (a + 1 < tile_columns_) near_[at + 1] = 1;
        if (b > 0) near_[at - tile_columns_] = 1;
        if (b + 1 < bands_) near_[at + tile_columns_] = 1;
      }
}

// Looks which tiles beside those of a source it has come to.
void Tags::find_spread() {
  bool spread = false;
  for (std::size_t at = 0; at < holds_.size(); ++at) {
    if (!near_[at] || holds_[at]) continue;
    holds_[at] = holds_some(at);
    spread |= holds_[at] != 0;
  }
  if (spread) find_near();
}

// Where a source has gone again the tile need not be mixed.
void Tags::forget_absent() {
  for (std::size_t at = 0; at < holds_.size(); ++at) {
    if (!holds_[at] || holds_some(at)) continue;
    holds_[at] = 0;
    const Part part = part_at(at);
    for (int j = part.begin_j; j < part.end_j; ++j)
      std::fill_n(row(next_, part.tag, j) + part.begin, part.count, 0.0);
  }
  for (const TagSupply& entry : arriving_)
    if (entry.rate > 0) holds_[tile_of(entry.tag, entry.cell)] = 1;
  find_near();
}

bool Tags::holds_some(std::size_t at) const {
  const Part part = part_at(at);
  for (int j = part.begin_j; j < part.end_j; ++j) {
    const double* share = row(now_, part.tag, j) + part.begin;
    std::uint64_t bits = 0; // shares are not negative: all bits are 0 only for nothing at all
    for (int k = 0; k < part.count; ++k) bits |= __builtin_bit_cast(std::uint64_t, share[k]);
    if (bits != 0) return true;
  }
  return false;
}

// Which source and cells an entry of holds_ is about.
Tags::Part Tags::part_at(std::size_t at) const {
  const int tile = static_cast<int>(at), band = tile / tile_columns_ % bands_;
  const int i = tile % tile_columns_ * Tiles::width, j = band * Tiles::height;
  return {tile / tile_columns_ / bands_, i, std::min(Tiles::width, columns_ - i), j,
          std::min(j + Tiles::height, rows_)};
}

void Tags::hold(int tag, int cell) {
  char& holds = holds_[tile_of(tag, cell)];
  if (holds) return;
  holds = 1;
  find_near();
}

// What passed over the faces of a stretch of a row, and the scratch of its weights.
MixingRow Tags::mixing_row(const PassedWater& passed, std::span<const double> supply, const Span& span,
                           int j) {
  const std::size_t at = frame_.at(span.begin, j), cell = grid_.index(span.begin, j);
  return {&passed.x[at],      &passed.y[at],     &passed.y[at + frame_.pitch],
          &depth_[cell],      &supply[cell],     keep_.data(),
          from_west_.data(),  from_east_.data(), from_south_.data(),
          from_north_.data(), &per_total_[cell], span.end - span.begin};
}

// Keeps what the flushed cells of a row had: until it is known what they gave they give nothing.
void Tags::take_out_flushed(const PassedWater& passed, std::span<const double> supply, int j) {
  std::size_t k = flushed_.size();
  for (const Span& span : spans_[j / Tiles::height])
    find_flushed(grid_, frame_, passed, depth_, supply, span, j, flushed_);
  for (; k < flushed_.size(); ++k)
    for (int tag = 0; tag < count_; ++tag)
      flushed_had_.push_back(std::exchange(row(now_, tag, 0)[flushed_[k].cell], 0.0));
}

// What a group of flushed cells gave: of one cell all that it had and the rest of what it got; cells that fed
// each other round a circle are mixed. Their new shares are complete but for those of a circle.
void Tags::compose_given(std::span<const int> group, std::vector<double>& given) {
  const double* had = &flushed_had_[static_cast<std::size_t>(group[0]) * count_];
  if (group.size() == 1) {
    const Flushed& one = flushed_[group[0]];
    const double first = one.holds / one.gave;
    for (int tag = 0; tag < count_; ++tag)
      given[tag] = first * had[tag] + (1 - first) * row(next_, tag, 0)[one.cell];
    return;
  }
  double all = 0; // m
  for (int tag = 0; tag < count_; ++tag) {
    given[tag] = 0;
    for (const int k : group) {
      const int cell = flushed_[k].cell;
      given[tag] += row(next_, tag, 0)[cell] / per_total_[cell] +
                    flushed_[k].holds * flushed_had_[static_cast<std::size_t>(k) * count_ + tag];
    }
    all += given[tag];
  }
  for (int tag = 0; tag < count_; ++tag) {
    given[tag] = all > no_water ? given[tag] / all : had[tag];
    for (const int k : group) row(next_, tag, 0)[flushed_[k].cell] = given[tag];
  }
}

// Passes the water of flushed cells on, downstream.
void Tags::pass_on(const PassedWater& passed) {
  order_.find(passed, flushed_);
  std::vector<double> given(count_);
  const std::size_t tiles = static_cast<std::size_t>(tile_columns_) * bands_;
  for (std::size_t g = 0; g < order_.groups(); ++g) {
    const std::span<const int> group = order_.group(g);
    compose_given(group, given);
    for (const int k : group) {
      const Flushed& one = flushed_[k];
      for (int tag = 0; tag < count_; ++tag) row(now_, tag, 0)[one.cell] = given[tag];
      for (int side = 0; side < 4; ++side) {
        const Exchange to = exchange_over(grid_, frame_, passed, one.column, one.row, side);
        if (!(to.inflow < 0) || to.cell < 0) continue;
        const int place = order_.place(to.cell);
        if (place >= 0 && std::find(group.begin(), group.end(), place) != group.end()) continue;
        const double weight = -to.inflow / cell_size_ * per_total_[to.cell];
        const std::size_t tile = tile_of(0, to.cell);
        for (int tag = 0; tag < count_; ++tag) {
          const double share = weight * given[tag];
          if (share > 0 && !near_[tile + tag * tiles]) hold(tag, to.cell);
          row(next_, tag, 0)[to.cell] += share;
        }
      }
    }
  }
}

// The parts of the grid whose water may have changed are those of all the steps since the last time.
void Tags::begin(const Tiles& tiles) {
  for (int b = 0; b < bands_; ++b) {
    spans_[b].clear();
    for (int a = 0; a < tile_columns_; ++a) {
      const std::size_t at = static_cast<std::size_t>(b) * tile_columns_ + a;
      if (tiles.changing[at]) changed_[at] = 1;
      if (changed_[at]) append(spans_[b], a * Tiles::width, std::min((a + 1) * Tiles::width, columns_));
    }
  }
}

void Tags::step(const PassedWater& passed, std::span<const double> supply, std::span<const double> depth) {
  flushed_.clear();
  flushed_had_.clear();
  take_out_flushed(passed, supply, 0);
  for (int j = 0; j < rows_; ++j) {
    if (j + 1 < rows_) take_out_flushed(passed, supply, j + 1);
    std::fill_n(per_total_.begin() + static_cast<std::ptrdiff_t>(grid_.index(0, j)), columns_, 0.0);
    for (const Span& span : spans_[j / Tiles::height]) {
      const MixingRow weights = mixing_row(passed, supply, span, j);
      weigh_row(weights, passed.time, 1 / cell_size_);
      for (int tag = 0; tag < count_; ++tag) mix_near(tag, j, span.begin, weights);
    }
    add_supply(j, passed.time);
  }
  if (!flushed_.empty()) pass_on(passed);
  count_crossings(passed);
  for (int j = 0; j < rows_; ++j)
    for (const Span& span : spans_[j / Tiles::height])
      std::copy_n(&depth[grid_.index(span.begin, j)], span.end - span.begin,
                  &depth_[grid_.index(span.begin, j)]);
  std::fill(changed_.begin(), changed_.end(), 0);
  now_.swap(next_);
  find_spread();
  if (++steps_since_normal_ >= steps_between_sweeps) normalise();
}

void Tags::rest(double dt, std::span<const int> pool, std::span<const double> moved,
                std::span<const double> supply, std::span<const double> depth) {
  // What each cell has before anything is levelled: its own water and what arrived on it.
  for (std::size_t c = 0; c < depth_.size(); ++c) {
    if (!(supply[c] > 0)) continue;
    const double kept = depth_[c] / (depth_[c] + supply[c] * dt);
    for (int tag = 0; tag < count_; ++tag) row(now_, tag, 0)[c] *= kept;
  }
  for (const TagSupply& entry : arriving_)
    if (entry.rate > 0)
      row(now_, entry.tag, 0)[entry.cell] += entry.rate * dt / (depth_[entry.cell] + supply[entry.cell] * dt);

  const int pools = pool.empty() ? 0 : *std::max_element(pool.begin(), pool.end()) + 1;
  std::vector<double> given(pools, 0.0), composition(static_cast<std::size_t>(pools) * count_, 0.0);
  for (std::size_t c = 0; c < depth_.size(); ++c) {
    if (pool[c] < 0 || !(moved[c] < 0)) continue;
    given[pool[c]] -= moved[c];
    for (int tag = 0; tag < count_; ++tag)
      composition[pool[c] * count_ + tag] -= moved[c] * row(now_, tag, 0)[c];
  }
  count_levelling(pool, moved, given, composition);
  for (std::size_t c = 0; c < depth_.size(); ++c) {
    if (pool[c] >= 0 && moved[c] > 0 && given[pool[c]] > no_water) {
      const double had = depth_[c] + supply[c] * dt, total = had + moved[c];
      for (int tag = 0; tag < count_; ++tag) {
        double& share = row(now_, tag, 0)[c];
        share = (share * had + moved[c] * composition[pool[c] * count_ + tag] / given[pool[c]]) / total;
      }
    }
    depth_[c] = depth[c];
  }
  std::fill(near_.begin(), near_.end(), 1); // levelling reaches far
  find_spread();
  find_near();
  normalise();
}

// Cells that give do so with their own composition, cells that get with that of the pool's common water.
void Tags::count_levelling(std::span<const int> pool, std::span<const double> moved,
                           std::span<const double> given, std::span<const double> composition) {
  for (std::size_t gate = 0; gate < inside_.size(); ++gate)
    for (int tag = 0; tag < count_; ++tag) {
      double net = 0; // m
      for (const int c : inside_[gate]) {
        if (pool[c] < 0) continue;
        if (moved[c] < 0)
          net += moved[c] * row(now_, tag, 0)[c];
        else if (given[pool[c]] > no_water)
          net += moved[c] * composition[pool[c] * count_ + tag] / given[pool[c]];
      }
      (net > 0 ? with_ : against_)[gate * count_ + tag] += std::abs(net) * cell_size_ * cell_size_;
    }
}

void Tags::give(int cell, double before, double after, int tag) {
  if (tag < 0 || tag >= count_)
    throw NumericsError("surface: water was given from a source that is not there");
  depth_[cell] = after;
  if (!(after > before)) return;
  hold(tag, cell);
  for (int other = 0; other < count_; ++other) row(now_, other, 0)[cell] *= before / after;
  row(now_, tag, 0)[cell] += (after - before) / after;
}

void Tags::normalise() {
  steps_since_normal_ = 0;
  forget_absent();
  for (int j = 0; j < rows_; ++j) {
    std::fill(keep_.begin(), keep_.end(), 0.0);
    for (int tag = 0; tag < count_; ++tag) {
      const double* share = row(now_, tag, j);
      for (int i = 0; i < columns_; ++i) keep_[i] += share[i];
    }
    for (double& sum : keep_) sum = sum > 0 ? 1.0 / sum : 1.0;
    for (int tag = 0; tag < count_; ++tag) {
      double* share = row(now_, tag, j);
      for (int i = 0; i < columns_; ++i) share[i] *= keep_[i];
    }
  }
}

} // namespace lowspot::surface
