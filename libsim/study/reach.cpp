#include <lowspot/study/reach.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/study/reach_labels.hpp>

namespace lowspot::study {
namespace {

constexpr double hair = 1e-9;
constexpr int most_tries = 300;
constexpr int corners_a_side = 10;    // of ways with one corner
constexpr std::size_t most_ends = 20; // of these
constexpr int most_rounds = 20;       // of moves that make a way better
constexpr double farthest_move = 8;   // cells
constexpr double least_gain = 0.005;  // of what a way costs, or of 10 cm of fall

struct Trial {
  ReachWay way;
  bool found = false;
};

bool in_reach(const PipeProfile& profile, double deepest_cut) {
  return profile.margin >= -hair && profile.deepest_cut <= deepest_cut + hair;
}

// Which of two profiles is better: cheaper when both are in reach, otherwise with more fall to spare.
struct Judge {
  double deepest_cut;
  bool by_cost;
  bool allowed(const PipeProfile& profile) const { return !by_cost || in_reach(profile, deepest_cut); }
  double badness(const PipeProfile& profile) const { return by_cost ? profile.cost : -profile.margin; }
  // A share of the cost, or decimetres.
  double gain(const PipeProfile& before, const PipeProfile& after) const {
    return (badness(before) - badness(after)) / (by_cost ? std::max(before.cost, hair) : 0.1);
  }
};

class Finder {
public:
  Finder(const ReachGround& ground, const site::ReachRules& rules, const Point& start, double start_invert)
      : ground_(ground), rules_(rules), start_(start), start_invert_(start_invert),
        start_cell_(static_cast<int>(cell_at(ground.grid, start.x, start.y))) {}

  std::vector<ReachWay> find(const std::vector<std::vector<ReachEnd>>& groups) {
    double lowest = never;
    for (const auto& group : groups)
      for (const ReachEnd& end : group) lowest = std::min(lowest, end.level);
    std::vector<ReachWay> ways(groups.size());
    std::vector<std::size_t> open;
    const ReachLabels cheap =
        cheapest_labels(ground_, rules_, start_cell_, start_invert_, rules_.deepest_cut, lowest);
    for (std::size_t g = 0; g < groups.size(); ++g) {
      const Trial trial = best_of(groups[g], cheap, {rules_.deepest_cut, true});
      if (trial.found) {
        ways[g] = trial.way;
        ways[g].reach = Reach::by_gravity;
      } else {
        open.push_back(g);
      }
    }
    if (open.empty()) return ways;
    const ReachLabels highest = highest_labels(ground_, rules_, start_cell_, start_invert_);
    std::vector<std::size_t> deep;
    for (const std::size_t g : open) {
      const Trial trial = best_of(groups[g], highest, {never, false});
      if (!trial.found) continue; // shut in
      ways[g] = trial.way;
      if (trial.way.profile.margin < -hair)
        ways[g].reach = Reach::too_little_fall;
      else if (in_reach(trial.way.profile, rules_.deepest_cut))
        ways[g] = made_cheaper(trial, groups[g]);
      else
        deep.push_back(g);
    }
    ease_deep(groups, deep, lowest, ways);
    return ways;
  }

private:
  // A way in reach that was found for its fall alone.
  ReachWay made_cheaper(Trial trial, const std::vector<ReachEnd>& ends) const {
    improve(trial, ends, {rules_.deepest_cut, true});
    trial.way.reach = Reach::by_gravity;
    return trial.way;
  }

  // Fall enough, but a ridge in the way: how deep must one dig at least? Tried at rising limits.
  void ease_deep(const std::vector<std::vector<ReachEnd>>& groups, std::vector<std::size_t> deep,
                 double lowest, std::vector<ReachWay>& ways) const {
    for (const std::size_t g : deep) ways[g].reach = Reach::too_deep;
    for (const double factor : {1.15, 1.3, 1.5, 2.0, 3.0}) {
      if (deep.empty()) return;
      const double limit = factor * rules_.deepest_cut;
      const ReachLabels labels = cheapest_labels(ground_, rules_, start_cell_, start_invert_, limit, lowest);
      std::vector<std::size_t> left;
      for (const std::size_t g : deep) {
        const Trial trial = best_of(groups[g], labels, {limit, true});
        if (!trial.found) {
          left.push_back(g);
          continue;
        }
        ways[g] = trial.way;
        ways[g].reach = in_reach(trial.way.profile, rules_.deepest_cut) ? Reach::by_gravity : Reach::too_deep;
      }
      deep = left;
    }
  }

  struct Candidate {
    double badness;
    std::size_t end;
    int label;
  };

  Trial best_of(const std::vector<ReachEnd>& ends, const ReachLabels& labels, const Judge& judge) const {
    Trial drawn = straight(ends, judge), stepped;
    std::vector<Candidate> heap = candidates(ends, labels, judge);
    const auto worse = [](const Candidate& a, const Candidate& b) { return a.badness > b.badness; };
    std::make_heap(heap.begin(), heap.end(), worse);
    int tries = 0, found = 0;
    while (!heap.empty() && tries < most_tries && found < 3) {
      std::pop_heap(heap.begin(), heap.end(), worse);
      const Candidate candidate = heap.back();
      heap.pop_back();
      Polyline way = labels.way_to(candidate.label, ground_.grid);
      way.front() = start_;
      const Point& end = ends[candidate.end].at;
      if (distance(way.back(), end) > hair) {
        if (!line_is_open(ground_, way.back(), end)) continue; // free of charge: no profile was laid
        way.push_back(end);
      }
      ++tries;
      if (offer(stepped, std::move(way), candidate.end, ends, judge)) ++found;
    }
    // The better of the two before it is improved need not be the better one after that.
    for (Trial* each : {&drawn, &stepped})
      if (each->found) improve(*each, ends, judge);
    if (!stepped.found || (drawn.found && judge.gain(stepped.way.profile, drawn.way.profile) > 0))
      return drawn;
    return stepped;
  }

  // Steps to 16 neighbours reach a place by a way that is a little longer than the straight one, and what was
  // found may end a little beside the best place: corners, new ones in the middle of pieces and the end are
  // moved as long as that gains something, each time by the move that gains most.
  void improve(Trial& best, const std::vector<ReachEnd>& ends, const Judge& judge) const {
    straighten(best, ends, judge);
    for (int round = 0; round < most_rounds; ++round) {
      Trial next = best;
      const Polyline& way = best.way.way;
      for (std::size_t k = 1; k < way.size(); ++k) {
        Polyline with_one = way;
        const Point middle{0.5 * (way[k - 1].x + way[k].x), 0.5 * (way[k - 1].y + way[k].y)};
        with_one.insert(with_one.begin() + static_cast<std::ptrdiff_t>(k), middle);
        move_corner(next, with_one, k, best.way.end, ends, judge);
        if (k + 1 < way.size()) move_corner(next, way, k, best.way.end, ends, judge);
      }
      for (std::size_t e = 0; e < ends.size(); ++e) {
        if (e == best.way.end || distance(ends[e].at, way.back()) > farthest_move * ground_.grid.cell)
          continue;
        Polyline other = way;
        other.back() = ends[e].at;
        offer(next, std::move(other), e, ends, judge);
      }
      if (judge.gain(best.way.profile, next.way.profile) < least_gain) return;
      best = std::move(next);
      straighten(best, ends, judge);
    }
  }

  // Offers the way with one corner moved in eight directions, by a cell and by twice as much each time.
  void move_corner(Trial& best, const Polyline& way, std::size_t corner, std::size_t end,
                   const std::vector<ReachEnd>& ends, const Judge& judge) const {
    for (double step = 1; step <= farthest_move; step *= 2)
      for (int dj = -1; dj <= 1; ++dj)
        for (int di = -1; di <= 1; ++di) {
          if (di == 0 && dj == 0) continue;
          Polyline moved = way;
          moved[corner].x += di * step * ground_.grid.cell;
          moved[corner].y += dj * step * ground_.grid.cell;
          offer(best, std::move(moved), end, ends, judge);
        }
  }

  Trial straight(const std::vector<ReachEnd>& ends, const Judge& judge) const {
    Trial best;
    for (std::size_t e = 0; e < ends.size(); ++e) offer(best, {start_, ends[e].at}, e, ends, judge);
    bent(best, ends, judge);
    return best;
  }

  // Ways with one corner, at places spread over the ground and to ends spread over their number.
  void bent(Trial& best, const std::vector<ReachEnd>& ends, const Judge& judge) const {
    const Grid& grid = ground_.grid;
    const std::size_t tried = std::min(ends.size(), most_ends);
    for (int j = 0; j < corners_a_side; ++j)
      for (int i = 0; i < corners_a_side; ++i) {
        const Point corner{grid.x0 + (i + 0.5) / corners_a_side * grid.nx * grid.cell,
                           grid.y0 + (j + 0.5) / corners_a_side * grid.ny * grid.cell};
        if (distance(corner, start_) < hair || !line_is_open(ground_, start_, corner)) continue;
        for (std::size_t k = 0; k < tried; ++k) {
          const std::size_t e = (2 * k + 1) * ends.size() / (2 * tried);
          offer(best, {start_, corner, ends[e].at}, e, ends, judge);
        }
      }
  }

  // Whether the way can be used; it becomes the best when it is better.
  bool offer(Trial& best, Polyline way, std::size_t end, const std::vector<ReachEnd>& ends,
             const Judge& judge) const {
    if (way.size() == 2 && distance(way.front(), way.back()) < hair) return false;
    const auto profile = lay_pipe(ground_, way, start_invert_, ends[end].level, rules_);
    if (!profile || !judge.allowed(*profile)) return false;
    if (!best.found || judge.badness(*profile) < judge.badness(best.way.profile) - hair) {
      best.found = true;
      best.way.end = end;
      best.way.way = std::move(way);
      best.way.profile = *profile;
    }
    return true;
  }

  // Labels from which an end lies within the run-out, on the straight.
  std::vector<Candidate> candidates(const std::vector<ReachEnd>& ends, const ReachLabels& labels,
                                    const Judge& judge) const {
    std::vector<Candidate> list;
    const Grid& grid = ground_.grid;
    const double far = std::max(rules_.run_out, 0.5 * grid.cell);
    const int reach = static_cast<int>(std::ceil(far / grid.cell));
    for (std::size_t e = 0; e < ends.size(); ++e) {
      const long cell = cell_at(grid, ends[e].at.x, ends[e].at.y);
      const int ci = grid.column(cell), cj = grid.row(cell);
      for (int j = std::max(0, cj - reach); j <= std::min(grid.ny - 1, cj + reach); ++j)
        for (int i = std::max(0, ci - reach); i <= std::min(grid.nx - 1, ci + reach); ++i) {
          const double gap = distance({grid.x(i), grid.y(j)}, ends[e].at);
          if (gap > far + hair) continue;
          for (int k = labels.first[grid.index(i, j)]; k >= 0; k = labels.labels[k].next) {
            const ReachLabel& label = labels.labels[k];
            const double spare = label.invert - rules_.least_fall * gap - ends[e].level;
            if (judge.by_cost && spare < -hair) continue;
            const double cut = 0.5 * (ground_.elevation[label.cell] - label.invert + ground_.elevation[cell] -
                                      ends[e].level);
            const double dug =
                label.cost + rules_.trench_width * gap * std::max(0.0, cut) * ground_.dearness[label.cell];
            list.push_back({judge.by_cost ? dug : -spare, e, k});
          }
        }
    }
    return list;
  }

  // Leaves out corners as long as that makes the way no worse.
  void straighten(Trial& best, const std::vector<ReachEnd>& ends, const Judge& judge) const {
    for (std::size_t i = 0; i + 2 < best.way.way.size(); ++i)
      for (std::size_t j = best.way.way.size() - 1; j > i + 1; --j) {
        Polyline shorter(best.way.way.begin(), best.way.way.begin() + static_cast<std::ptrdiff_t>(i) + 1);
        shorter.insert(shorter.end(), best.way.way.begin() + static_cast<std::ptrdiff_t>(j),
                       best.way.way.end());
        const auto profile = lay_pipe(ground_, shorter, start_invert_, ends[best.way.end].level, rules_);
        if (!profile || !judge.allowed(*profile)) continue;
        if (judge.badness(*profile) > judge.badness(best.way.profile) + hair) continue;
        best.way.way = std::move(shorter);
        best.way.profile = *profile;
        break;
      }
  }

  const ReachGround& ground_;
  const site::ReachRules& rules_;
  Point start_;
  double start_invert_;
  int start_cell_;
};

} // namespace

std::vector<ReachWay> find_ways(const ReachGround& ground, const site::ReachRules& rules, const Point& start,
                                double start_invert, const std::vector<std::vector<ReachEnd>>& groups) {
  const long cell = cell_at(ground.grid, start.x, start.y);
  if (cell < 0 || !ground.open[cell]) return std::vector<ReachWay>(groups.size());
  return Finder(ground, rules, start, start_invert).find(groups);
}

} // namespace lowspot::study
