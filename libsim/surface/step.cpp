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

constexpr int least_rows = 24; // for a thread

// Where more of the faces that carry water than this rush, quick steps would cost more than they save.
constexpr double most_rushing = 0.15;

double squared(double value) {
  return value * value;
}

double floor_factor(const Options& options) {
  return squared(options.celerity_floor * 5.0 / 3.0);
}

// Still water, or rain that has just begun, as fast as the deepest water would be below the cap.
Celerities present_celerities(const Options& options, const Workspace& work) {
  const double waves = std::min(gravity * work.deepest, squared(options.celerity_cap));
  Celerities present = work.celerities;
  const double least = std::max(waves, squared(slowest_celerity));
  present.raise({least, least});
  return present;
}

// The shortest wave over both directions is stable while (c_x^2 + c_y^2) (dt / dx)^2 times this is below 1,
// with the foresight b.
double crowding(const Options& options) {
  return 1.0 + 2.0 * options.foresight;
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

// Where the rows of each thread begin, so that all have as many moving cells; one more at the end.
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

// Some steps in the rows [begin, end), all following each other through the rows. Each step keeps
// `rows_behind` rows away from where the one before began and stopped, other than at the limits of the grid,
// so that none needs what other threads do in the meantime. wait() is called before any of the last `near`
// rows is touched.
template <class Wait>
void make_middle(const std::vector<Sweep>& steps, int begin, int end, int near, const Wait& wait) {
  const int count = static_cast<int>(steps.size()), rows = steps[0].grid.ny;
  const int in = begin == 0 ? 0 : rows_behind;
  const int stop = end == rows ? rows + 2 : end, off = end == rows ? 0 : rows_behind;
  const int wait_at = std::max(begin, end - near);
  for (int front = begin; front < stop + rows_behind * (count - 1); ++front) {
    if (front == wait_at) wait();
    for (int step = 0; step < count; ++step) {
      const int j = front - rows_behind * step;
      if (j >= begin + in * step && j < stop - off * step) advance_row(steps[step], j, begin + in * step);
    }
  }
}

// What these steps leave open about the row `end`, once the rows on both sides are done.
void close_gap(const std::vector<Sweep>& steps, int end) {
  const int count = static_cast<int>(steps.size());
  for (int step = 0; step < count; ++step)
    for (int j = end - rows_behind * step; j <= end + rows_behind * step + 2; ++j)
      close_row(steps[step], j, end + rows_behind * step);
}

// How many threads have enough to do, with some rows each.
int members_for(const Grid& grid, int count, const Tiles& tiles, const Crew* crew) {
  if (!crew) return 1;
  const double worth = std::min(tiles.moving_cells * count / crew->least_updates(), 1e6);
  return std::max(1, std::min({crew->size(), grid.ny / least_rows, static_cast<int>(worth)}));
}

// Each thread makes the middle of its band, then closes the gap to the band south of it, while the thread
// there goes on with the next steps at the other end of its band.
void make_side_by_side(const std::vector<Sweep>& steps, std::vector<int> begins, std::vector<Most>& most,
                       Crew& crew) {
  const int count = static_cast<int>(steps.size()), bands = static_cast<int>(begins.size()) - 1;
  int least = begins.back();
  for (int band = 0; band < bands; ++band) least = std::min(least, begins[band + 1] - begins[band]);
  const int at_once = std::clamp(least / 50, 1, count); // so that gaps are a few percent of all rows
  for (int band = 1; band < bands; ++band)
    begins[band] += rows_behind * at_once / 2; // the first closes no gap
  // What takes memory is made here: a thread that ran out of it would take the program with it.
  std::vector<std::vector<std::vector<Sweep>>> groups(bands); // [band][group]
  for (int band = 0; band < bands; ++band) {
    for (int first = 0; first < count; first += at_once) {
      groups[band].emplace_back(steps.begin() + first, steps.begin() + std::min(first + at_once, count));
      for (Sweep& step : groups[band].back()) step.most = &most[band];
    }
  }
  crew.run(bands, [&](int band) {
    int done = 0;
    for (const std::vector<Sweep>& together : groups[band]) {
      // By then the gap that the steps before have left there is closed.
      make_middle(together, begins[band], begins[band + 1], rows_behind * (at_once + 3), [&] {
        if (band + 1 < bands) crew.progress(band + 1).await(done);
      });
      crew.progress(band).raise(done + 1);
      if (band > 0) {
        crew.progress(band - 1).await(done + 1);
        close_gap(together, begins[band]);
      }
      crew.progress(band).raise(done + 2);
      done += 2;
    }
  });
}

} // namespace

double stable_step(const Terrain& terrain, const Options& options, const Workspace& work) {
  const Celerities present = present_celerities(options, work);
  const double stable = 0.98 / std::sqrt(crowding(options) * (present.x + present.y));
  const double fastest = options.courant / std::sqrt(std::max(present.x, present.y));
  return std::min(fastest, stable) * terrain.grid.cell;
}

StepNumbers begin_steps(const Terrain& terrain, const Options& options, double dt, Workspace& work) {
  const Celerities present = present_celerities(options, work);
  const double stable = squared(terrain.grid.cell / dt) / (crowding(options) * (present.x + present.y));
  const StepNumbers numbers{dt,
                            1.0 / terrain.grid.cell,
                            squared(options.celerity_cap),
                            floor_factor(options),
                            options.foresight,
                            work.step > 0 ? work.step : dt,
                            options.full_every,
                            stable * present.x,
                            stable * present.y};
  work.celerities = {};
  work.deepest = 0;
  return numbers;
}

void hydraulic_steps(const Grid& grid, const StepNumbers& numbers, int count, const Tiles& tiles,
                     Workspace& work, const Water& water, Crew* crew) {
  const bool kept = water.undo != nullptr;
  const int members = members_for(grid, count, tiles, crew);
  std::vector<Most> most(members);
  StepNumbers later = numbers;
  later.dt_before = numbers.dt;
  const FaceNumbers x_numbers(numbers, numbers.stable_x), y_numbers(numbers, numbers.stable_y);
  const FaceNumbers later_x(later, later.stable_x), later_y(later, later.stable_y);
  const bool quick = numbers.full_every > 1 && work.rushing < most_rushing;
  const int full_every = quick ? numbers.full_every : 1;
  std::vector<Sweep> steps;
  for (int step = 0; step < count; ++step) {
    const bool last = step + 1 == count;
    steps.push_back({grid, step == 0 ? numbers : later, step == 0 ? x_numbers : later_x,
                     step == 0 ? y_numbers : later_y, tiles, work, water, pass_of(step, kept, work),
                     step % full_every, count > 1 && (quick || (step == 0 && numbers.full_every > 1)),
                     step == 0 ? water.undo : nullptr, last ? water.undo : nullptr, most.data(), step == 0,
                     last ? numbers.dt * count : 0.0});
  }
  if (members == 1)
    make_middle(steps, 0, grid.ny, 0, [] {});
  else
    make_side_by_side(steps, share_rows(grid, tiles, members), most, *crew);
  long wet = 0, rushing = 0;
  for (const Most& each : most) {
    wet += each.wet;
    rushing += each.rushing;
    work.celerities.raise(each.celerities);
    work.deepest = std::max(work.deepest, each.deepest);
  }
  if (wet > 0) work.rushing = static_cast<double>(rushing) / static_cast<double>(wet);
  work.step = numbers.dt;
  turn(count, kept, work.q_x, work.q_x_next, work.q_x_third);
  turn(count, kept, work.q_y, work.q_y_next, work.q_y_third);
}

} // namespace lowspot::surface
