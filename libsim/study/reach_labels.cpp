#include <lowspot/study/reach_labels.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <queue>

namespace lowspot::study {
namespace {

constexpr double same_invert = 1e-3; // m: below this, two inverts are one

struct Step {
  int di, dj;
  int past[2][2]; // cells that are passed on the way
  int passed;
};

std::vector<Step> make_steps() {
  std::vector<Step> steps;
  for (int dj = -2; dj <= 2; ++dj)
    for (int di = -2; di <= 2; ++di) {
      const int a = std::abs(di), b = std::abs(dj);
      if (a + b == 1) steps.push_back({di, dj, {{0, 0}, {0, 0}}, 0});
      if (a == 1 && b == 1) steps.push_back({di, dj, {{di, 0}, {0, dj}}, 2});
      if (a == 2 && b == 1) steps.push_back({di, dj, {{di / 2, 0}, {di / 2, dj}}, 2});
      if (a == 1 && b == 2) steps.push_back({di, dj, {{0, dj / 2}, {di, dj / 2}}, 2});
    }
  return steps;
}

// Searches from one cell. `by_cost`: labels by rising cost; otherwise by falling invert, one a cell.
class Search {
public:
  Search(const ReachGround& ground, const site::ReachRules& rules, double deepest_cut, double lowest,
         bool by_cost)
      : ground_(ground), rules_(rules), deepest_cut_(deepest_cut), lowest_(lowest), by_cost_(by_cost),
        steps_(make_steps()) {
    found_.first.assign(ground.grid.cells(), -1);
    best_invert_.assign(ground.grid.cells(), -std::numeric_limits<double>::infinity());
  }

  ReachLabels run(int start, double start_invert) {
    push({start, start_invert, 0, -1, -1});
    while (!queue_.empty()) {
      const ReachLabel label = queue_.top().label;
      queue_.pop();
      if (label.invert <= best_invert_[label.cell] + threshold(label.cell)) continue;
      best_invert_[label.cell] = label.invert;
      const int number = static_cast<int>(found_.labels.size());
      found_.labels.push_back(label);
      found_.labels.back().next = found_.first[label.cell];
      found_.first[label.cell] = number;
      for (const Step& step : steps_) extend(label, number, step);
    }
    return std::move(found_);
  }

private:
  struct Entry {
    double key;
    ReachLabel label;
    bool operator<(const Entry& other) const { return key > other.key; } // the smallest key on top
  };

  double threshold(int cell) const { return found_.first[cell] < 0 ? 0 : same_invert; }

  void push(const ReachLabel& label) {
    if (label.invert <= best_invert_[label.cell] + threshold(label.cell)) return;
    queue_.push({by_cost_ ? label.cost : -label.invert, label});
  }

  void extend(const ReachLabel& label, int number, const Step& step) {
    const Grid& grid = ground_.grid;
    const int i = grid.column(label.cell), j = grid.row(label.cell);
    const int a = i + step.di, b = j + step.dj;
    if (!grid.inside(a, b) || !ground_.open[grid.index(a, b)]) return;
    const double buried = rules_.cover + rules_.pipe;
    const double length = grid.cell * std::hypot(step.di, step.dj);
    const std::size_t to = grid.index(a, b);
    double middle = 0;
    for (int k = 0; k < step.passed; ++k) {
      const int p = i + step.past[k][0], q = j + step.past[k][1];
      if (!grid.inside(p, q) || !ground_.open[grid.index(p, q)]) return;
      middle += 0.5 * ground_.elevation[grid.index(p, q)];
    }
    double invert = label.invert;
    if (step.passed == 2 && std::abs(step.di) + std::abs(step.dj) == 3) { // the long step has a middle
      const double halfway = std::min(invert - 0.5 * rules_.least_fall * length, middle - buried);
      if (middle - halfway > deepest_cut_) return;
      invert = halfway - 0.5 * rules_.least_fall * length;
    } else {
      invert -= rules_.least_fall * length;
    }
    invert = std::min(invert, ground_.elevation[to] - buried);
    const double cut = ground_.elevation[to] - invert;
    if (cut > deepest_cut_ || invert < lowest_) return;
    const double before = ground_.elevation[label.cell] - label.invert;
    const double dearness = 0.5 * (ground_.dearness[label.cell] + ground_.dearness[to]);
    const double dug = rules_.trench_width * length * 0.5 * (cut + before) * dearness;
    push({static_cast<int>(to), invert, label.cost + dug, number, -1});
  }

  const ReachGround& ground_;
  const site::ReachRules& rules_;
  double deepest_cut_, lowest_;
  bool by_cost_;
  std::vector<Step> steps_;
  ReachLabels found_;
  std::vector<double> best_invert_;
  std::priority_queue<Entry> queue_;
};

} // namespace

Polyline ReachLabels::way_to(int label, const Grid& grid) const {
  Polyline way;
  for (int at = label; at >= 0; at = labels[at].before)
    way.push_back({grid.x(grid.column(labels[at].cell)), grid.y(grid.row(labels[at].cell))});
  std::reverse(way.begin(), way.end());
  return way;
}

ReachLabels cheapest_labels(const ReachGround& ground, const site::ReachRules& rules, int start,
                            double start_invert, double deepest_cut, double lowest) {
  return Search(ground, rules, deepest_cut, lowest, true).run(start, start_invert);
}

ReachLabels highest_labels(const ReachGround& ground, const site::ReachRules& rules, int start,
                           double start_invert) {
  constexpr double all = std::numeric_limits<double>::infinity();
  return Search(ground, rules, all, -all, false).run(start, start_invert);
}

} // namespace lowspot::study
