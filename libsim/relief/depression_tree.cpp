#include <lowspot/relief/depression_tree.hpp>

#include <algorithm>
#include <array>
#include <bit>
#include <numeric>

#include <lowspot/relief/ordered_cells.hpp>
#include <lowspot/relief/passages.hpp>

namespace lowspot::relief {
namespace {

constexpr int dry = -1;           // label of ground not yet under water
constexpr int outside = 0;        // label of ground from which water leaves; pit p has label p's number + 1
constexpr int drains = -1;        // in place of a basin
constexpr std::size_t ahead = 24; // cells asked for in advance, so that memory keeps up with the sweep

// The ways down of a cell: bits 0 to 3 (south, west, east, north) where a neighbour can be reached and is
// lower, the number of the lowest of these in two bits more; none at an outlet. Found row by row beforehand,
// so that the sweep, whose cells lie anywhere, has fewer questions to ask.
constexpr int below_bits = 15, lowest_shift = 4;
constexpr std::array<std::uint8_t, 4> side_bit = {4, 1, 2, 8}; // in Passages::blocked, of the ways in order

std::vector<std::uint8_t> ways_down(const Relief& relief, const Passages& passages,
                                    const std::array<int, 4>& step) {
  std::vector<std::uint8_t> ways(relief.grid.cells());
  const double* elevation = relief.elevation.data();
  for (int c = 0; c < static_cast<int>(ways.size()); ++c) {
    const int blocked = passages.blocked[c];
    const double z = elevation[c];
    int below = 0, lowest = 0;
    double least = z;
    for (int way = 0; way < 4; ++way) {
      const bool open = !(blocked & side_bit[way]);
      const double other = elevation[open ? c + step[way] : c];
      below |= (other < z) << way;
      lowest = other < least ? way : lowest;
      least = std::min(least, other);
    }
    ways[c] = blocked & outlet_bit ? 0 : static_cast<std::uint8_t>(below | lowest << lowest_shift);
  }
  return ways;
}

class Sweep {
public:
  explicit Sweep(const Relief& relief)
      : relief_(relief), elevation_(relief.elevation),
        columns_(relief.grid.nx), step_{-columns_, -1, 1, columns_}, passages_(find_passages(relief)),
        ways_(ways_down(relief, passages_, step_)), labels_(relief.grid.cells(), dry) {
    parent_.assign(1, outside);
    basin_.assign(1, drains);
  }

  DepressionTree run() {
    order_ = ordered_cells(relief_.active, elevation_);
    if (!order_.empty()) datum_ = elevation_[order_.front()];
    std::size_t next_wall = 0;
    const std::vector<Overtopping>& walls = passages_.walls;
    for (std::size_t begin = 0; begin < order_.size();) {
      const double z = elevation_[order_[begin]];
      std::size_t end = begin;
      do ask_for(end++);
      while (end < order_.size() && elevation_[order_[end]] == z);
      while (next_wall < walls.size() && walls[next_wall].level < z) overtop(walls[next_wall++]);
      if (end - begin == 1)
        add_one(order_[begin], z);
      else
        add_patch(begin, end, z);
      begin = end;
    }
    while (next_wall < walls.size()) overtop(walls[next_wall++]);
    for (int label = 1; label < static_cast<int>(parent_.size()); ++label)
      if (parent_[label] == label && basin_[label] != drains) tree_.closed.push_back(basin_[label]);
    name_pits();
    return std::move(tree_);
  }

private:
  struct Content {
    double cells; // under water
    double sum;   // of their elevations above the datum [m]
  };

  void ask_for(std::size_t at) const {
    if (at + ahead >= order_.size()) return;
    const int cell = order_[at + ahead];
    __builtin_prefetch(&elevation_[cell]);
    __builtin_prefetch(&ways_[cell]);
    const int cells = static_cast<int>(labels_.size());
    __builtin_prefetch(&labels_[cell], 1);
    __builtin_prefetch(&labels_[cell >= columns_ ? cell - columns_ : cell]);
    __builtin_prefetch(&labels_[cell + columns_ < cells ? cell + columns_ : cell]);
  }

  int find(int label) {
    while (parent_[label] != label) {
      parent_[label] = parent_[parent_[label]];
      label = parent_[label];
    }
    return label;
  }

  // Calls look(neighbour) for each that can be reached over a face not above either cell.
  template <class Look>
  void each_neighbour(int cell, Look look) const {
    const std::uint8_t blocked = passages_.blocked[cell];
    if (!(blocked & 4)) look(cell - columns_);
    if (!(blocked & 1)) look(cell - 1);
    if (!(blocked & 2)) look(cell + 1);
    if (!(blocked & 8)) look(cell + columns_);
  }

  // Those already under water, the lowest first.
  int reached_from(int cell, std::array<int, 4>& reached) const {
    int count = 0;
    each_neighbour(cell, [&](int other) {
      if (labels_[other] == dry) return;
      int at = count++;
      for (; at > 0 && elevation_[reached[at - 1]] > elevation_[other]; --at) reached[at] = reached[at - 1];
      reached[at] = other;
    });
    return count;
  }

  // The only cell at its elevation. Those under water are just the lower ones.
  void add_one(int cell, double z) {
    const int ways = ways_[cell];
    int others = ways & below_bits;
    if (others == 0) return add_cell(cell, z);
    const int lowest = ways >> lowest_shift & 3;
    const int label = labels_[cell + step_[lowest]];
    others &= ~(1 << lowest);
    int way = -1; // to the only one of another label
    for (; others != 0; others &= others - 1) {
      const int other = std::countr_zero(static_cast<unsigned>(others));
      if (labels_[cell + step_[other]] == label) continue;
      if (way >= 0) return add_cell(cell, z);
      way = other;
    }
    labels_[cell] = label;
    hold(label, z);
    if (way >= 0) {
      const int beyond = cell + step_[way];
      join(label, labels_[beyond], z, cell, beyond, cell, cell + step_[lowest]);
    }
  }

  void hold(int label, double z) {
    const int basin = basin_[find(label)];
    if (basin == drains) return;
    content_[basin].cells += 1;
    content_[basin].sum += z - datum_;
  }

  void add_cell(int cell, double z) {
    std::array<int, 4> reached;
    const int count = reached_from(cell, reached);
    int& label = labels_[cell];
    if (passages_.blocked[cell] & outlet_bit) {
      const bool falls = count > 0 && elevation_[reached[0]] < z;
      label = falls ? labels_[reached[0]] : outside;
      for (int k = 0; k < count; ++k) join(labels_[reached[k]], outside, z, cell, -1, cell, reached[k]);
      return;
    }
    if (count == 0) {
      label = static_cast<int>(parent_.size());
      parent_.push_back(label);
      basin_.push_back(static_cast<int>(tree_.depressions.size()));
      tree_.depressions.push_back({});
      tree_.depressions.back().bottom_cell = cell;
      tree_.depressions.back().bottom = z;
      content_.push_back({1, z - datum_});
      return;
    }
    label = labels_[reached[0]];
    hold(label, z);
    for (int k = 1; k < count; ++k)
      if (labels_[reached[k]] != label)
        join(label, labels_[reached[k]], z, cell, reached[k], cell, reached[0]);
  }

  // Cells of one elevation: each patch from the ways down inward, step by step.
  void add_patch(std::size_t begin, std::size_t end, double z) {
    front_.clear();
    for (std::size_t k = begin; k < end; ++k) {
      std::array<int, 4> reached;
      if ((passages_.blocked[order_[k]] & outlet_bit) || reached_from(order_[k], reached) > 0)
        front_.push_back(order_[k]);
    }
    spread_patch(z);
    for (std::size_t k = begin; k < end; ++k) {
      if (labels_[order_[k]] != dry) continue;
      front_.assign(1, order_[k]);
      spread_patch(z);
    }
  }

  void spread_patch(double z) {
    for (std::size_t at = 0; at < front_.size(); ++at) {
      const int cell = front_[at];
      if (labels_[cell] != dry) continue;
      add_cell(cell, z);
      each_neighbour(cell, [&](int other) {
        if (labels_[other] == dry && elevation_[other] == z) front_.push_back(other);
      });
    }
  }

  void overtop(const Overtopping& wall) {
    const int root = find(labels_[wall.a]);
    if (wall.b >= 0) {
      join(root, labels_[wall.b], wall.level, wall.a, wall.b, wall.b, wall.a);
    } else {
      join(root, outside, wall.level, wall.a, -1, wall.a, -1);
    }
  }

  void spill(int basin, double level, int from, int to) {
    Depression& depression = tree_.depressions[basin];
    depression.spill_level = level;
    depression.spill_from = from;
    depression.spill_to = to;
    const Content& content = content_[basin];
    depression.volume =
        std::max(0.0, content.cells * (level - datum_) - content.sum) * relief_.grid.cell_area();
  }

  // Two bodies of water meet at a level; each would spill from its `from` to its `to`.
  void join(int a, int b, double level, int from_a, int to_a, int from_b, int to_b) {
    a = find(a);
    b = find(b);
    if (a == b) return;
    const int basin_a = basin_[a], basin_b = basin_[b];
    if (basin_a != drains) spill(basin_a, level, from_a, to_a);
    if (basin_b != drains) spill(basin_b, level, from_b, to_b);
    if (basin_a == drains || basin_b == drains) {
      if (basin_a != drains) tree_.finished.push_back(basin_a);
      if (basin_b != drains) tree_.finished.push_back(basin_b);
      parent_[a] = parent_[b] = outside;
      return;
    }
    parent_[b] = a;
    basin_[a] = merged(basin_a, basin_b);
  }

  int merged(int a, int b) {
    Depression both;
    const Depression &first = tree_.depressions[a], &second = tree_.depressions[b];
    const bool first_is_lower = first.bottom < second.bottom ||
                                (first.bottom == second.bottom && first.bottom_cell < second.bottom_cell);
    both.bottom = first_is_lower ? first.bottom : second.bottom;
    both.bottom_cell = first_is_lower ? first.bottom_cell : second.bottom_cell;
    both.left = a;
    both.right = b;
    content_.push_back({content_[a].cells + content_[b].cells, content_[a].sum + content_[b].sum});
    tree_.depressions.push_back(both);
    return static_cast<int>(tree_.depressions.size()) - 1;
  }

  void name_pits() {
    std::vector<int> leaf(parent_.size(), pit_outside);
    int label = 0;
    for (std::size_t d = 0; d < tree_.depressions.size(); ++d)
      if (tree_.depressions[d].left < 0) leaf[++label] = static_cast<int>(d);
    for (int& cell_label : labels_) cell_label = cell_label == dry ? pit_inactive : leaf[cell_label];
    tree_.pit = std::move(labels_);
  }

  const Relief& relief_;
  std::span<const double> elevation_;
  int columns_;
  std::array<int, 4> step_; // to the neighbours, in the order of the ways
  Passages passages_;
  std::vector<std::uint8_t> ways_;
  std::vector<int> labels_;
  std::vector<int> order_, front_;
  std::vector<int> parent_;      // of labels
  std::vector<int> basin_;       // of a label that is a root
  std::vector<Content> content_; // one a depression
  double datum_ = 0;             // the lowest ground: keeps digits when elevations are large
  DepressionTree tree_;
};

} // namespace

DepressionTree build_depression_tree(const Relief& relief) {
  return Sweep(relief).run();
}

} // namespace lowspot::relief
