#include <lowspot/terrain/depression_tree.hpp>

#include <algorithm>
#include <array>

namespace lowspot::terrain {
namespace {

constexpr double no_wall = -std::numeric_limits<double>::infinity();
constexpr int drains = -1; // in place of a basin: ground from which water leaves the yard

struct Entry {
  double level;
  int cell;
};
bool lower_entry(const Entry& a, const Entry& b) {
  return a.level < b.level || (a.level == b.level && a.cell < b.cell);
}

// A wall that is overtopped at `level`, between two cells or (b = -1) at an open edge.
struct Overtopping {
  double level;
  int a, b;
};

class Sweep {
public:
  explicit Sweep(const Ground& ground) : ground_(ground), grid_(ground.grid) {
    const std::size_t cells = grid_.cells();
    parent_.assign(cells, -1);
    basin_.assign(cells, drains);
    outlet_.assign(cells, 0);
    tree_.pit.assign(cells, pit_inactive);
    for (std::size_t c = 0; c < cells; ++c)
      if (ground.active[c]) datum_ = std::min(datum_, ground.elevation[c]);
    collect_walls();
  }

  DepressionTree run() {
    std::vector<Entry> order;
    order.reserve(grid_.cells());
    for (std::size_t c = 0; c < grid_.cells(); ++c)
      if (ground_.active[c]) order.push_back({ground_.elevation[c], static_cast<int>(c)});
    std::sort(order.begin(), order.end(), lower_entry);
    std::size_t next_wall = 0;
    for (const Entry& entry : order) {
      while (next_wall < walls_.size() && walls_[next_wall].level < entry.level) overtop(walls_[next_wall++]);
      add_cell(entry.cell);
    }
    while (next_wall < walls_.size()) overtop(walls_[next_wall++]);
    for (const Entry& entry : order)
      if (parent_[entry.cell] == entry.cell && basin_[entry.cell] != drains)
        tree_.closed.push_back(basin_[entry.cell]);
    return std::move(tree_);
  }

private:
  void collect_walls() {
    auto between = [&](double crest, std::size_t a, std::size_t b) {
      if (crest == no_wall || !ground_.active[a] || !ground_.active[b]) return;
      if (crest > std::max(ground_.elevation[a], ground_.elevation[b]))
        walls_.push_back({crest, static_cast<int>(a), static_cast<int>(b)});
    };
    for (int j = 0; j < grid_.ny; ++j)
      for (int i = 0; i < grid_.nx; ++i) {
        const std::size_t c = grid_.index(i, j);
        if (i > 0) between(ground_.crest_x[grid_.x_face(i, j)], c - 1, c);
        if (j > 0) between(ground_.crest_y[grid_.y_face(i, j)], c - grid_.nx, c);
      }
    for (const EdgeFace& edge : ground_.edges) {
      if (!edge.open) continue;
      const double crest = edge_crest(edge);
      if (crest > ground_.elevation[edge.cell])
        walls_.push_back({crest, edge.cell, -1});
      else
        outlet_[edge.cell] = 1;
    }
    std::sort(walls_.begin(), walls_.end(), [](const Overtopping& p, const Overtopping& q) {
      return p.level != q.level ? p.level < q.level : p.a != q.a ? p.a < q.a : p.b < q.b;
    });
  }

  double edge_crest(const EdgeFace& edge) const {
    const int i = grid_.column(edge.cell), j = grid_.row(edge.cell);
    switch (edge.side) {
    case Side::west:
      return ground_.crest_x[grid_.x_face(i, j)];
    case Side::east:
      return ground_.crest_x[grid_.x_face(i + 1, j)];
    case Side::south:
      return ground_.crest_y[grid_.y_face(i, j)];
    default:
      return ground_.crest_y[grid_.y_face(i, j + 1)];
    }
  }

  int find(int cell) {
    while (parent_[cell] != cell) {
      parent_[cell] = parent_[parent_[cell]];
      cell = parent_[cell];
    }
    return cell;
  }

  // Cells already under water at this level that can be reached over a face not above it, the lowest first.
  int reached_from(int cell, std::array<int, 4>& reached) const {
    const int i = grid_.column(cell), j = grid_.row(cell);
    const double z = ground_.elevation[cell];
    int count = 0;
    auto look = [&](bool exists, int other, const Field& crest, std::size_t face) {
      if (!exists || parent_[other] < 0 || crest[face] > z) return;
      int at = count++;
      for (; at > 0 && ground_.elevation[reached[at - 1]] > ground_.elevation[other]; --at)
        reached[at] = reached[at - 1];
      reached[at] = other;
    };
    look(j > 0, cell - grid_.nx, ground_.crest_y, grid_.y_face(i, j));
    look(i > 0, cell - 1, ground_.crest_x, grid_.x_face(i, j));
    look(i + 1 < grid_.nx, cell + 1, ground_.crest_x, grid_.x_face(i + 1, j));
    look(j + 1 < grid_.ny, cell + grid_.nx, ground_.crest_y, grid_.y_face(i, j + 1));
    return count;
  }

  void add_cell(int cell) {
    std::array<int, 4> reached;
    const int count = reached_from(cell, reached);
    const double z = ground_.elevation[cell];
    const bool falls = count > 0 && ground_.elevation[reached[0]] < z;
    parent_[cell] = cell;
    if (outlet_[cell]) {
      tree_.pit[cell] = falls ? tree_.pit[reached[0]] : pit_outside;
      basin_[cell] = drains;
      for (int k = 0; k < count; ++k) join(find(reached[k]), find(cell), z, cell, -1, cell, reached[k]);
      return;
    }
    if (count == 0) {
      const int leaf = static_cast<int>(tree_.depressions.size());
      tree_.depressions.push_back({});
      tree_.depressions.back().bottom_cell = cell;
      tree_.depressions.back().bottom = z;
      content_.push_back({1, z - datum_});
      tree_.pit[cell] = leaf;
      basin_[cell] = leaf;
      return;
    }
    tree_.pit[cell] = tree_.pit[reached[0]];
    const int root = find(reached[0]);
    parent_[cell] = root;
    if (basin_[root] != drains) {
      content_[basin_[root]].cells += 1;
      content_[basin_[root]].sum += z - datum_;
    }
    for (int k = 1; k < count; ++k) join(find(cell), find(reached[k]), z, cell, reached[k], cell, reached[0]);
  }

  void overtop(const Overtopping& wall) {
    const int root = find(wall.a);
    if (wall.b >= 0) {
      join(root, find(wall.b), wall.level, wall.a, wall.b, wall.b, wall.a);
    } else if (basin_[root] != drains) {
      spill(basin_[root], wall.level, wall.a, -1);
      tree_.finished.push_back(basin_[root]);
      basin_[root] = drains;
    }
  }

  void spill(int basin, double level, int from, int to) {
    Depression& depression = tree_.depressions[basin];
    depression.spill_level = level;
    depression.spill_from = from;
    depression.spill_to = to;
    const Content& content = content_[basin];
    depression.volume = std::max(0.0, content.cells * (level - datum_) - content.sum) * grid_.cell_area();
  }

  // Two bodies of water meet at a level; each would spill from its `from` to its `to`.
  void join(int a, int b, double level, int from_a, int to_a, int from_b, int to_b) {
    if (a == b) return;
    const int basin_a = basin_[a], basin_b = basin_[b];
    parent_[b] = a;
    if (basin_a != drains) spill(basin_a, level, from_a, to_a);
    if (basin_b != drains) spill(basin_b, level, from_b, to_b);
    if (basin_a == drains || basin_b == drains) {
      if (basin_a != drains) tree_.finished.push_back(basin_a);
      if (basin_b != drains) tree_.finished.push_back(basin_b);
      basin_[a] = drains;
      return;
    }
    Depression both;
    const Depression& first = tree_.depressions[basin_a];
    const Depression& second = tree_.depressions[basin_b];
    const bool first_is_lower = first.bottom < second.bottom ||
                                (first.bottom == second.bottom && first.bottom_cell < second.bottom_cell);
    both.bottom = first_is_lower ? first.bottom : second.bottom;
    both.bottom_cell = first_is_lower ? first.bottom_cell : second.bottom_cell;
    both.left = basin_a;
    both.right = basin_b;
    content_.push_back(
        {content_[basin_a].cells + content_[basin_b].cells, content_[basin_a].sum + content_[basin_b].sum});
    basin_[a] = static_cast<int>(tree_.depressions.size());
    tree_.depressions.push_back(both);
  }

  struct Content {
    double cells; // under water
    double sum;   // of their elevations above the datum [m]
  };

  const Ground& ground_;
  const Grid& grid_;
  double datum_ = std::numeric_limits<double>::infinity(); // keeps digits when elevations are large
  std::vector<int> parent_;                                // -1: not yet under water
  std::vector<int> basin_;                                 // of a root
  std::vector<std::uint8_t> outlet_;
  std::vector<Content> content_; // one a depression
  std::vector<Overtopping> walls_;
  DepressionTree tree_;
};

} // namespace

DepressionTree build_depression_tree(const Ground& ground) {
  return Sweep(ground).run();
}

} // namespace lowspot::terrain
