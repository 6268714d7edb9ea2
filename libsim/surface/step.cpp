#include <lowspot/surface/step.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

#include <lowspot/surface/crew.hpp>
#include <lowspot/surface/friction.hpp>
#include <lowspot/surface/sweep.hpp>
#include <lowspot/surface/undo.hpp>

namespace lowspot::surface {
namespace {

constexpr double slowest_celerity = 0.1; // m/s: bounds the step where there is next to no water

constexpr int least_rows = 8; // of a single step, for a thread

double squared(double value) {
  return value * value;
}

double floor_factor(const Options& options) {
  return squared(options.celerity_floor * 5.0 / 3.0);
}

// Discharges before and after one step of a group. Where the group may be taken back, those at its start stay
// as they are and two other arrays take turns; otherwise they take turns with one other.
Pass pass_of(int step, bool kept, Workspace& work) {
  Aligned<float>&x = kept ? work.q_x_third : work.q_x, &y = kept ? work.q_y_third : work.q_y;
  if (step == 0) return {&work.q_x, &work.q_y, &work.q_x_next, &work.q_y_next};
  if (step % 2 == 0) return {&x, &y, &work.q_x_next, &work.q_y_next};
  return {&work.q_x_next, &work.q_y_next, &x, &y};
}

// What the steps led to comes to q_x, what was there at their start and is to be kept to q_x_third.
void turn(int count, bool kept, Aligned<float>& q, Aligned<float>& q_next, Aligned<float>& q_third) {
  if (count % 2 == 1) std::swap(q, q_next);
  if (kept) std::swap(count % 2 == 1 ? q_next : q, q_third);
}

// The steps [first, last) of a group. Those before have to be rows_behind rows ahead: `before` is told how
// many rows are done by the one who makes them, `done` tells those who make the next steps.
void follow_rows(std::vector<Sweep>& sweeps, int first, int last, const Progress* before, Progress* done) {
  constexpr int rows_at_once = 4; // between two looks at the others
  const int rows = sweeps[first].grid.ny + 2, behind = rows_behind * (last - first - 1);
  for (int front = 0; front < rows + behind; ++front) {
    if (before && front % rows_at_once == 0)
      before->await(std::min(front + rows_behind + rows_at_once, rows));
    for (int step = first; step < last; ++step) {
      const int j = front - rows_behind * (step - first);
      if (j >= 0 && j < rows) advance_row(sweeps[step], j);
    }
    const int finished = front - behind + 1;
    if (done && (finished % rows_at_once == 0 || finished == rows) && finished > 0) done->raise(finished);
  }
}

// Where the rows of each member of a crew begin, so that all have as many moving cells; one more at the end.
std::vector<int> share_rows(const Grid& grid, const Tiles& tiles, int members) {
  std::vector<int> begins{0};
  double cells = 0;
  for (int j = 0; j < grid.ny; ++j) {
    const auto member = static_cast<double>(begins.size());
    const bool room = j - begins.back() >= least_rows && grid.ny - j >= least_rows;
    if (begins.size() < static_cast<std::size_t>(members) && room &&
        cells * members >= member * tiles.moving_cells)
      begins.push_back(j);
    for (const Span& span : tiles.moving_in(j)) cells += span.end - span.begin;
  }
  begins.push_back(grid.ny);
  return begins;
}

// One step, its rows shared out.
void step_side_by_side(const Sweep& step, const std::vector<int>& begins, std::vector<Most>& most,
                       Crew& crew) {
  const int members = static_cast<int>(begins.size()) - 1;
  crew.run(members, [&](int member) {
    Sweep sweep = step;
    sweep.most = &most[member];
    advance_band(
        sweep, begins[member], begins[member + 1], [&] { crew.progress(member).raise(1); },
        [&] { crew.progress(member + 1).await(1); });
  });
}

// How many threads have enough to do, and each at least one step of its own or a few rows.
int members_for(const Grid& grid, int count, const Tiles& tiles, const Crew* crew) {
  if (!crew) return 1;
  const double worth = tiles.moving_cells * count / crew->least_updates();
  const int most = count > 1 ? count : grid.ny / least_rows;
  return std::max(1, std::min({crew->size(), most, static_cast<int>(std::min(worth, 1e6))}));
}

} // namespace

double stable_step(const Terrain& terrain, const Options& options, const Workspace& work) {
  // Still water, or rain that has just begun: what the deepest water would need below the cap.
  const double waves = std::min(gravity * work.deepest, squared(options.celerity_cap));
  const double celerity = std::max({waves, work.celerity_squared, squared(slowest_celerity)});
  // In two dimensions the shortest wave needs c dt / dx < sqrt((1 - w) / 2) with the neighbour weight w.
  const double stable = 0.95 * std::sqrt(0.5 * (1.0 - options.neighbour_weight));
  return std::min(options.courant, stable) * terrain.grid.cell / std::sqrt(celerity);
}

StepNumbers begin_steps(const Terrain& terrain, const Options& options, double dt, Workspace& work) {
  const StepNumbers numbers{dt, 1.0 / terrain.grid.cell, squared(options.celerity_cap), floor_factor(options),
                            options.neighbour_weight};
  work.celerity_squared = 0;
  work.deepest = 0;
  return numbers;
}

void hydraulic_steps(const Grid& grid, const StepNumbers& numbers, int count, const Tiles& tiles,
                     Workspace& work, const Water& water, Crew* crew) {
  const bool kept = water.undo != nullptr;
  const int members = members_for(grid, count, tiles, crew);
  std::vector<Most> most(std::max(count, members));
  std::vector<Sweep> sweeps;
  for (int step = 0; step < count; ++step)
    sweeps.push_back({grid, numbers, tiles, work, water, pass_of(step, kept, work),
                      step == 0 ? water.undo : nullptr, &most[step]});
  if (members == 1) {
    follow_rows(sweeps, 0, count, nullptr, nullptr);
  } else if (count == 1) {
    step_side_by_side(sweeps[0], share_rows(grid, tiles, members), most, *crew);
  } else {
    crew->run(members, [&](int member) {
      const int first = count * member / members, last = count * (member + 1) / members;
      follow_rows(sweeps, first, last, member > 0 ? &crew->progress(member - 1) : nullptr,
                  &crew->progress(member));
    });
  }
  for (const Most& each : most) {
    work.celerity_squared = std::max(work.celerity_squared, each.celerity_squared);
    work.deepest = std::max(work.deepest, each.deepest);
  }
  turn(count, kept, work.q_x, work.q_x_next, work.q_x_third);
  turn(count, kept, work.q_y, work.q_y_next, work.q_y_third);
}

void refresh_roughness(const Terrain& terrain, const Tiles& tiles, Workspace& work) {
  for (int j = 0; j < terrain.grid.ny; ++j) {
    if (!work.row_grows[j]) continue;
    const std::size_t row = terrain.grid.index(0, j), at = work.frame.at(0, j);
    for (const Span& span : tiles.moving_in(j))
      for (int i = span.begin; i < span.end; ++i)
        work.n_squared[at + i] =
            static_cast<float>(roughness_at(work.mobile[at + i], work.roughness_thin[row + i],
                                            work.log_ratio[row + i], work.vegetation[row + i]));
  }
}

} // namespace lowspot::surface
