#include <lowspot/surface/tags.hpp>

#include <algorithm>
#include <cmath>
#include <string>

#include <lowspot/base/error.hpp>
#include <lowspot/surface/friction.hpp>
#include <lowspot/surface/workspace.hpp>

namespace lowspot::surface {
namespace {

// Less water than this has no composition [m].
constexpr double nothing = 1e-200;
// Rounding is swept out of the sums of shares once in this many steps.
constexpr int steps_between_sweeps = 32;

} // namespace

struct WeightRow {
  const double *west, *south, *north; // m2 passed; the face east of a cell is the next west one
  const double *depth, *supply;       // m at the start of the step, m/s
  double *keep, *from_west, *from_east, *from_south, *from_north;
  double* per_total; // 1/m: one over all the water that a cell had or got in the step, 0: none
  int count;
};

namespace {

inline double positive(double value) {
  return value > 0 ? value : 0.0;
}

// How much each of the five compositions counts in the new one; sums to 1 less what the supply adds.
LOWSPOT_VECTOR_CLONES
void weigh(const WeightRow& row, double dt, double factor) {
  const double *west = row.west, *south = row.south, *north = row.north, *depth = row.depth,
               *supply = row.supply;
  double *keep = row.keep, *from_west = row.from_west, *from_east = row.from_east,
         *from_south = row.from_south, *from_north = row.from_north, *per_total = row.per_total;
#pragma GCC ivdep
  for (int i = 0; i < row.count; ++i) {
    const double in_west = factor * positive(west[i]), in_east = factor * positive(-west[i + 1]);
    const double in_south = factor * positive(south[i]), in_north = factor * positive(-north[i]);
    const double out =
        factor * ((positive(-west[i]) + positive(west[i + 1])) + (positive(-south[i]) + positive(north[i])));
    const double kept = positive(depth[i] - out);
    const double total = kept + ((in_west + in_east) + (in_south + in_north)) + supply[i] * dt;
    const bool some = total > nothing;
    const double inverse = some ? 1.0 / total : 0.0;
    keep[i] = some ? kept * inverse : 1.0;
    from_west[i] = in_west * inverse;
    from_east[i] = in_east * inverse;
    from_south[i] = in_south * inverse;
    from_north[i] = in_north * inverse;
    per_total[i] = inverse;
  }
}

// The largest ratio of what leaves a cell of a row to what it had; `factor` turns what passed into depth.
LOWSPOT_VECTOR_CLONES
double most_given_in(const double* west, const double* south, const double* north, const double* depth,
                     double factor, int count) {
  std::int32_t most = 0; // bits of a number that is not negative, which vectorise
#pragma GCC ivdep
  for (int i = 0; i < count; ++i) {
    const double out =
        factor * ((positive(-west[i]) + positive(west[i + 1])) + (positive(-south[i]) + positive(north[i])));
    // A ratio past ten is as good as ten, and smaller depths than a float holds have nothing to give.
    const float had = static_cast<float>(depth[i]) + 1e-30f, gone = static_cast<float>(out);
    const float ratio = gone < 10 * had ? gone / had : 10.0f;
    const std::int32_t bits = __builtin_bit_cast(std::int32_t, ratio);
    most = bits > most ? bits : most;
  }
  return __builtin_bit_cast(float, most);
}

// The stretch of a row from `from` on; its south, north and supply are those of the whole and not used any
// more.
WeightRow part_of(WeightRow row, int from, int count) {
  for (double** weight : {&row.keep, &row.from_west, &row.from_east, &row.from_south, &row.from_north})
    *weight += from;
  row.count = count;
  return row;
}

LOWSPOT_VECTOR_CLONES
void mix(const WeightRow& row, const double* here, const double* south, const double* north, double* mixed) {
  const double *keep = row.keep, *from_west = row.from_west, *from_east = row.from_east,
               *from_south = row.from_south, *from_north = row.from_north;
#pragma GCC ivdep
  for (int i = 0; i < row.count; ++i)
    mixed[i] = keep[i] * here[i] + (from_west[i] * here[i - 1] + from_east[i] * here[i + 1]) +
               (from_south[i] * south[i] + from_north[i] * north[i]);
}

} // namespace

Tags::Tags(const Terrain& terrain, int count, std::span<const double> depth, int present)
    : count_(count), columns_(terrain.grid.nx), rows_(terrain.grid.ny), cell_size_(terrain.grid.cell),
      padding_(terrain.grid.nx + 1), stride_(terrain.grid.cells() + 2 * padding_),
      depth_(depth.begin(), depth.end()), arriving_rows_(terrain.grid.ny + 1, 0), gate_begins_{0},
      frame_(terrain.grid) {
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
  std::fill_n(holds_.begin() + static_cast<std::ptrdiff_t>(tiles * present), tiles, 1);
  find_near();
  for (std::vector<double>* scratch :
       {&keep_, &from_west_, &from_east_, &from_south_, &from_north_, &per_total_})
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
}

void Tags::check_supply(std::span<const double> supply) const {
  Field unexplained(supply.begin(), supply.end());
  for (const TagSupply& entry : arriving_) unexplained[entry.cell] -= entry.rate;
  for (std::size_t c = 0; c < supply.size(); ++c)
    if (!(std::abs(unexplained[c]) <= 1e-12 * supply[c]))
      throw NumericsError("surface: the sources of what arrives on cell " + std::to_string(c) +
                          " do not sum to the supply");
}

void Tags::watch(std::vector<Gate> gates) {
  inside_.clear();
  crossings_.clear();
  gate_begins_.assign(1, 0);
  const auto inside = [&](int i, int j) { return i >= 0 && j >= 0 && i < columns_ && j < rows_; };
  const auto add = [&](int face, double sign, bool along_x) {
    const int width = along_x ? columns_ + 1 : columns_;
    const int i = face % width, j = face / width;
    const int behind_i = along_x ? i - 1 : i, behind_j = along_x ? j : j - 1;
    crossings_.push_back({frame_.at(i, j), inside(behind_i, behind_j) ? behind_j * columns_ + behind_i : -1,
                          inside(i, j) ? j * columns_ + i : -1, along_x, sign});
  };
  for (Gate& gate : gates) {
    const FaceSet& faces = gate.faces;
    for (std::size_t f = 0; f < faces.x_faces.size(); ++f) add(faces.x_faces[f], faces.x_signs[f], true);
    for (std::size_t f = 0; f < faces.y_faces.size(); ++f) add(faces.y_faces[f], faces.y_signs[f], false);
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
      const double volume = std::abs(q) * cell_size_;
      std::vector<double>& sums = q * face.sign > 0 ? with_ : against_;
      for (int tag = 0; tag < count_; ++tag) sums[gate * count_ + tag] += volume * row(now_, tag, 0)[giver];
    }
}

// Per cell the supply of each source counts by its part of all the water there.
void Tags::add_supply(int j, double dt) {
  const int first = j * columns_;
  for (std::size_t k = arriving_rows_[j]; k < arriving_rows_[j + 1]; ++k)
    next_[arriving_at_[k]] += arriving_[k].rate * dt * per_total_[arriving_[k].cell - first];
}

double Tags::most_given(const Grid& grid, const Tiles& tiles, const PassedWater& passed,
                        std::span<const double> depth) {
  const Frame frame(grid);
  double most = 0;
  for (int j = 0; j < grid.ny; ++j)
    for (const Span& span : tiles.moving_in(j)) {
      const std::size_t at = frame.at(span.begin, j);
      most = std::max(most,
                      most_given_in(&passed.x[at], &passed.y[at], &passed.y[at + frame.pitch],
                                    &depth[grid.index(span.begin, j)], 1 / grid.cell, span.end - span.begin));
    }
  return most;
}

// Mixes one source into a stretch of a row, in the tiles that it can have reached.
void Tags::mix_near(int tag, int j, int begin, const WeightRow& weights) {
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
      mix(part_of(weights, i - begin, stop - i), here + i, here + i - columns_, here + i + columns_,
          mixed + i);
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
  for (int tag = 0; tag < count_; ++tag)
    for (int b = 0; b < bands_; ++b)
      for (int a = 0; a < tile_columns_; ++a) {
        const std::size_t at = (static_cast<std::size_t>(tag) * bands_ + b) * tile_columns_ + a;
        if (!near_[at] || holds_[at]) continue;
        holds_[at] = holds_some(tag, a, b);
        spread |= holds_[at] != 0;
      }
  if (spread) find_near();
}

// Where a source has gone again the tile need not be mixed.
void Tags::forget_absent() {
  for (int tag = 0; tag < count_; ++tag)
    for (int b = 0; b < bands_; ++b)
      for (int a = 0; a < tile_columns_; ++a) {
        char& holds = holds_[(static_cast<std::size_t>(tag) * bands_ + b) * tile_columns_ + a];
        if (!holds || holds_some(tag, a, b)) continue;
        holds = 0;
        const int i = a * Tiles::width, count = std::min(Tiles::width, columns_ - i);
        for (int j = b * Tiles::height; j < std::min((b + 1) * Tiles::height, rows_); ++j)
          std::fill_n(row(next_, tag, j) + i, count, 0.0);
      }
  for (const TagSupply& entry : arriving_)
    if (entry.rate > 0) holds_[tile_of(entry.tag, entry.cell)] = 1;
  find_near();
}

bool Tags::holds_some(int tag, int a, int b) const {
  const int i = a * Tiles::width, count = std::min(Tiles::width, columns_ - i);
  for (int j = b * Tiles::height; j < std::min((b + 1) * Tiles::height, rows_); ++j) {
    const double* share = row(now_, tag, j) + i;
    std::uint64_t bits = 0; // shares are not negative: all bits are 0 only for nothing at all
    for (int k = 0; k < count; ++k) bits |= __builtin_bit_cast(std::uint64_t, share[k]);
    if (bits != 0) return true;
  }
  return false;
}

void Tags::hold(int tag, int cell) {
  char& holds = holds_[tile_of(tag, cell)];
  if (holds) return;
  holds = 1;
  find_near();
}

void Tags::step(const Tiles& tiles, PassedWater& passed, std::span<const double> supply) {
  count_crossings(passed);
  for (int j = 0; j < rows_; ++j) {
    const std::size_t cells = static_cast<std::size_t>(j) * columns_;
    std::fill(per_total_.begin(), per_total_.end(), 0.0);
    for (const Span& span : tiles.changing_in(j)) {
      const int begin = span.begin, count = span.end - span.begin;
      const std::size_t at = frame_.at(begin, j);
      const WeightRow weights{&passed.x[at],          &passed.y[at],          &passed.y[at + frame_.pitch],
                              &depth_[cells + begin], &supply[cells + begin], keep_.data(),
                              from_west_.data(),      from_east_.data(),      from_south_.data(),
                              from_north_.data(),     &per_total_[begin],     count};
      weigh(weights, passed.time, 1 / cell_size_);
      for (int tag = 0; tag < count_; ++tag) mix_near(tag, j, begin, weights);
    }
    add_supply(j, passed.time);
  }
  depth_.swap(passed.depth);
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
    if (pool[c] >= 0 && moved[c] > 0 && given[pool[c]] > nothing) {
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
        else if (given[pool[c]] > nothing)
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
    std::fill(per_total_.begin(), per_total_.end(), 0.0);
    for (int tag = 0; tag < count_; ++tag) {
      const double* share = row(now_, tag, j);
      for (int i = 0; i < columns_; ++i) per_total_[i] += share[i];
    }
    for (double& sum : per_total_) sum = sum > 0 ? 1.0 / sum : 1.0;
    for (int tag = 0; tag < count_; ++tag) {
      double* share = row(now_, tag, j);
      for (int i = 0; i < columns_; ++i) share[i] *= per_total_[i];
    }
  }
}

} // namespace lowspot::surface
