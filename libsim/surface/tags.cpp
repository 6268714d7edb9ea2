#include <lowspot/surface/tags.hpp>

#include <algorithm>
#include <cmath>
#include <string>

#include <lowspot/base/error.hpp>
#include <lowspot/surface/friction.hpp>

namespace lowspot::surface {
namespace {

// Less water than this has no composition [m].
constexpr double nothing = 1e-200;
// Rounding is swept out of the sums of shares once in this many steps.
constexpr int steps_between_sweeps = 16;

struct WeightRow {
  const double *west, *south, *north; // m2/s; the face east of a cell is the next west one
  const double *depth, *supply;       // m at the start of the step, m/s
  double *keep, *from_west, *from_east, *from_south, *from_north;
  double* per_total; // 1/m: one over all the water that a cell had or got in the step, 0: none
  int count;
};

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
      depth_(depth.begin(), depth.end()), arriving_rows_(terrain.grid.ny + 1, 0), gate_begins_{0} {
  if (count < 1 || present < 0 || present >= count)
    throw NumericsError("surface: tags need at least one source, and one for the water that is there");
  if (depth.size() != terrain.grid.cells()) throw NumericsError("surface: depths do not fit the grid");
  now_.assign(stride_ * count, 0.0);
  std::fill_n(row(now_, present, 0), depth.size(), 1.0);
  next_ = now_;
  west_.assign(columns_ + 1, 0.0);
  for (std::vector<double>* scratch :
       {&south_, &north_, &keep_, &from_west_, &from_east_, &from_south_, &from_north_, &per_total_})
    scratch->assign(columns_, 0.0);
}

std::span<const double> Tags::share(int tag) const {
  return {row(now_, tag, 0), depth_.size()};
}

void Tags::set_supply(const std::vector<TagSupply>& arriving) {
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
    crossings_.push_back({static_cast<std::size_t>(face),
                          inside(behind_i, behind_j) ? behind_j * columns_ + behind_i : -1,
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

template <class Discharge>
void Tags::count_crossings(double dt, const std::vector<Discharge>& q_x, const std::vector<Discharge>& q_y) {
  for (std::size_t gate = 0; gate + 1 < gate_begins_.size(); ++gate)
    for (std::size_t f = gate_begins_[gate]; f < gate_begins_[gate + 1]; ++f) {
      const Crossing& face = crossings_[f];
      const double q = (face.along_x ? q_x : q_y)[face.face];
      const int giver = q > 0 ? face.behind : face.ahead;
      if (q == 0 || giver < 0) continue;
      const double volume = std::abs(q) * dt * cell_size_;
      std::vector<double>& sums = q * face.sign > 0 ? with_ : against_;
      for (int tag = 0; tag < count_; ++tag) sums[gate * count_ + tag] += volume * row(now_, tag, 0)[giver];
    }
}

// Per cell the supply of each source counts by its part of all the water there.
void Tags::add_supply(int j, double dt) {
  const int first = j * columns_;
  for (std::size_t k = arriving_rows_[j]; k < arriving_rows_[j + 1]; ++k) {
    const TagSupply& entry = arriving_[k];
    const int i = entry.cell - first;
    row(next_, entry.tag, j)[i] += entry.rate * dt * per_total_[i];
  }
}

template <class Discharge>
void Tags::step(double dt, const Tiles& tiles, const std::vector<Discharge>& q_x,
                const std::vector<Discharge>& q_y, std::span<const double> supply,
                std::span<const double> depth) {
  count_crossings(dt, q_x, q_y);
  for (int j = 0; j < rows_; ++j) {
    const std::size_t cells = static_cast<std::size_t>(j) * columns_;
    const std::size_t faces = static_cast<std::size_t>(j) * (columns_ + 1);
    std::fill(per_total_.begin(), per_total_.end(), 0.0);
    for (const Span& span : tiles.changing_in(j)) {
      const int begin = span.begin, count = span.end - span.begin;
      for (int i = 0; i <= count; ++i) west_[i] = q_x[faces + begin + i];
      for (int i = 0; i < count; ++i) south_[i] = q_y[cells + begin + i];
      for (int i = 0; i < count; ++i) north_[i] = q_y[cells + columns_ + begin + i];
      const WeightRow weights{west_.data(),           south_.data(),          north_.data(),
                              &depth_[cells + begin], &supply[cells + begin], keep_.data(),
                              from_west_.data(),      from_east_.data(),      from_south_.data(),
                              from_north_.data(),     &per_total_[begin],     count};
      weigh(weights, dt, dt / cell_size_);
      for (int tag = 0; tag < count_; ++tag) {
        const double* here = row(now_, tag, j) + begin;
        mix(weights, here, here - columns_, here + columns_, row(next_, tag, j) + begin);
      }
    }
    add_supply(j, dt);
    for (const Span& span : tiles.changing_in(j))
      std::copy(depth.begin() + cells + span.begin, depth.begin() + cells + span.end,
                depth_.begin() + cells + span.begin);
  }
  now_.swap(next_);
  if (++steps_since_normal_ >= steps_between_sweeps) normalise();
}

template void Tags::step(double, const Tiles&, const std::vector<double>&, const std::vector<double>&,
                         std::span<const double>, std::span<const double>);
template void Tags::step(double, const Tiles&, const std::vector<float>&, const std::vector<float>&,
                         std::span<const double>, std::span<const double>);

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
  for (int other = 0; other < count_; ++other) row(now_, other, 0)[cell] *= before / after;
  row(now_, tag, 0)[cell] += (after - before) / after;
}

void Tags::normalise() {
  steps_since_normal_ = 0;
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
