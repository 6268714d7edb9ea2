#include <lowspot/surface/flow.hpp>

#include <algorithm>
#include <cmath>
#include <string>

#include <lowspot/base/error.hpp>
#include <lowspot/surface/crew.hpp>
#include <lowspot/surface/friction.hpp>
#include <lowspot/surface/kernel.hpp>
#include <lowspot/surface/rest.hpp>
#include <lowspot/surface/routed.hpp>
#include <lowspot/surface/step.hpp>
#include <lowspot/surface/tags.hpp>
#include <lowspot/surface/tiles.hpp>
#include <lowspot/surface/undo.hpp>
#include <lowspot/surface/workspace.hpp>

namespace lowspot::surface {
namespace {

// The step may grow by this much from one stretch of steps to the next.
constexpr double step_growth = 1.5;
// Several steps of one length are made at once while the fastest and the deepest water grow by no more than
// this from one such group to the next.
constexpr double steady_growth = 1.05;
// A group whose steps turn out longer than this times the stable step of the fastest water in it is made
// again, step by step. It is what stable_step() leaves to the limit of stability.
constexpr double too_long = 1.02;
// Whether all films have drained is looked at once in this many stretches.
constexpr int stretches_between_looks = 8;
// Sources are followed at the end of a call of advance(), or once so many steps or more wait for it.
constexpr int most_followed = 32;

std::unique_ptr<Crew> make_crew(const Options& options) {
  const bool wanted = options.threads > 1 && options.method == Method::dynamic;
  return wanted ? std::make_unique<Crew>(options.threads, options.updates_a_thread) : nullptr;
}

} // namespace

Flow::Flow(Terrain terrain, Options options)
    : terrain_(std::move(terrain)), options_(options), work_(std::make_unique<Workspace>(terrain_, options_)),
      tiles_(std::make_unique<Tiles>(terrain_.grid)), undo_(std::make_unique<Undo>()) {
  const Grid& grid = terrain_.grid;
  depth_.assign(grid.cells(), 0.0);
  left_.assign(terrain_.open_faces.size(), 0.0);
  crossed_.assign(terrain_.lines.size(), 0.0);
  crossed_faces_.assign(work_->crossings.size(), 0.0);
  at_rest_ = options_.allow_rest;
  if (!(options_.routing_step > 0) || options_.most_together < 1 || options_.threads < 1 ||
      !(options_.updates_a_thread > 0))
    throw NumericsError("surface: an option is out of its range");
  crew_ = make_crew(options_);
  if (options_.method == Method::routed) {
    routed_ = std::make_unique<RoutedFlow>(terrain_, options_.routing_step);
    return; // it keeps its own discharges
  }
  qx_.assign(grid.x_faces(), 0.0);
  qy_.assign(grid.y_faces(), 0.0);
}

Flow::Flow(const Flow& other)
    : terrain_(other.terrain_), options_(other.options_), depth_(other.depth_), left_(other.left_),
      crossed_(other.crossed_), qx_(other.qx_), qy_(other.qy_), crossed_faces_(other.crossed_faces_),
      counters_(other.counters_), at_rest_(other.at_rest_), stretches_(other.stretches_),
      together_(other.together_), most_supply_(other.most_supply_),
      work_(std::make_unique<Workspace>(*other.work_)), tiles_(std::make_unique<Tiles>(*other.tiles_)),
      undo_(std::make_unique<Undo>()), crew_(make_crew(options_)),
      tags_(other.tags_ ? std::make_unique<Tags>(*other.tags_) : nullptr),
      passed_(other.passed_ ? std::make_unique<PassedWater>(*other.passed_) : nullptr),
      routed_(other.routed_ ? std::make_unique<RoutedFlow>(*other.routed_) : nullptr) {}

Flow& Flow::operator=(const Flow& other) {
  if (this != &other) *this = Flow(other);
  return *this;
}

Flow::Flow(Flow&&) noexcept = default;
Flow& Flow::operator=(Flow&&) noexcept = default;
Flow::~Flow() = default;

void Flow::take_sources(std::span<const double> supply, std::span<const double> sink_capacity,
                        std::size_t taken) {
  const std::size_t cells = terrain_.grid.cells();
  if (supply.size() != cells || sink_capacity.size() != cells || taken != cells)
    throw NumericsError("surface: sources do not fit the grid");
  double most = 0, most_sink = 0;
  const int count = static_cast<int>(cells);
  if (!take_rates(supply.data(), terrain_.active.data(), work_->supply.data(), count, most) ||
      !take_rates(sink_capacity.data(), terrain_.active.data(), work_->sink.data(), count, most_sink))
    throw NumericsError("surface: a supply or a sink is negative or no number");
  if (most > steady_growth * most_supply_) together_ = 1;
  most_supply_ = most;
  if (tags_) tags_->check_supply(work_->supply);
}

void Flow::advance(double dt, std::span<const double> supply, std::span<const double> sink_capacity,
                   std::span<double> taken) {
  if (!(dt >= 0) || !std::isfinite(dt)) throw NumericsError("surface: the step is no length of time");
  take_sources(supply, sink_capacity, taken.size());
  std::fill(taken.begin(), taken.end(), 0.0);
  std::fill(left_.begin(), left_.end(), 0.0);
  std::fill(crossed_.begin(), crossed_.end(), 0.0);
  std::fill(crossed_faces_.begin(), crossed_faces_.end(), 0.0);
  if (routed_)
    run_routed(dt, taken);
  else
    run(dt, taken);
  // Maxima and limits pass over what is no number; it stays in the depth.
  if (!all_finite(depth_.data(), static_cast<int>(depth_.size())))
    throw NumericsError("surface: the flow has become no number");
  if (routed_) return;
  for (std::size_t k = 0; k < crossed_faces_.size(); ++k)
    crossed_[work_->crossings[k].line] += crossed_faces_[k];
  if (at_rest_) return; // all still
  work_->unpack_x(work_->q_x, qx_);
  work_->unpack_y(work_->q_y, qy_);
}

void Flow::run_routed(double dt, std::span<double> taken) {
  const long steps = routed_->steps();
  routed_->advance(dt, work_->supply, work_->sink, depth_, taken, left_);
  counters_.steps += routed_->steps() - steps;
  counters_.cell_updates += static_cast<double>((routed_->steps() - steps) * depth_.size());
  at_rest_ = routed_->at_rest();
  if (at_rest_) counters_.resting += dt;
  const Field &x = routed_->crossed_x(), &y = routed_->crossed_y();
  for (std::size_t k = 0; k < crossed_.size(); ++k) {
    const FaceSet& line = terrain_.lines[k];
    for (std::size_t f = 0; f < line.x_faces.size(); ++f)
      crossed_[k] += line.x_weights[f] * x[line.x_faces[f]];
    for (std::size_t f = 0; f < line.y_faces.size(); ++f)
      crossed_[k] += line.y_weights[f] * y[line.y_faces[f]];
  }
}

void Flow::run(double dt, std::span<double> taken) {
  double remaining = dt;
  while (remaining > 0) {
    if (options_.allow_rest && settled()) {
      follow();
      const double rested = rest(terrain_, remaining, *work_, depth_, taken, tags_.get());
      counters_.resting += rested;
      remaining -= rested;
      if (!(remaining > 0)) return;
      at_rest_ = false;
    }
    remaining -= run_window(remaining, taken);
  }
  follow();
}

// True in level pools, and when a look finds that flow has come to that.
bool Flow::settled() {
  if (at_rest_) return true;
  if (++stretches_ < stretches_between_looks) return false;
  stretches_ = 0;
  if (!is_all_calm(terrain_.grid, depth_, *work_, *tiles_) || !may_rest(terrain_, *work_, depth_))
    return false;
  mark_tiles(terrain_.grid, 0, Skip::calm, depth_, *work_, *tiles_);
  for (auto* values : {&work_->change, &work_->q_x, &work_->q_y, &work_->q_x_next, &work_->q_y_next,
                       &work_->q_x_third, &work_->q_y_third})
    std::fill(values->begin(), values->end(), 0.0f);
  std::fill(qx_.begin(), qx_.end(), 0.0);
  std::fill(qy_.begin(), qy_.end(), 0.0);
  work_->celerities = {};
  at_rest_ = true;
  return true;
}

// A stretch of steps between two looks at which tiles move. Returns the time passed [s].
double Flow::run_window(double remaining, std::span<double> taken) {
  const double longest = std::min(stable_step(terrain_, options_, *work_) * step_growth, remaining);
  mark_tiles(terrain_.grid, longest * Tiles::steps_valid,
             options_.allow_rest ? Skip::calm_without_gain : Skip::dry, depth_, *work_, *tiles_);
  if (tags_) tags_->begin(*tiles_);
  double passed = 0;
  for (int k = 0; k < Tiles::steps_valid && passed < remaining;) {
    const double left = remaining - passed;
    const double dt = std::min(stable_step(terrain_, options_, *work_), longest);
    // Equal steps to the end rather than a sliver at the end.
    const double steps_left = std::max(std::ceil(left / dt * (1 - 1e-12)), 1.0);
    const double even = left / steps_left;
    const int count = std::min({together_, Tiles::steps_valid - k,
                                static_cast<int>(std::min<double>(steps_left, Tiles::steps_valid))});
    const Celerities before = work_->celerities;
    const double depth_before = work_->deepest;
    const Water water{depth_, taken, left_, crossed_faces_, count > 1 ? undo_.get() : nullptr, passed_.get()};
    if (water.undo) water.undo->begin(terrain_.grid, *work_, water);
    const StepNumbers numbers = begin_steps(terrain_, options_, even, *work_);
    hydraulic_steps(terrain_.grid, numbers, count, *tiles_, *work_, water, crew_.get());
    if (count > 1 && even > too_long * stable_step(terrain_, options_, *work_)) {
      undo_->restore(terrain_.grid, *tiles_, *work_, water);
      together_ = 1;
      ++counters_.groups_again;
      continue;
    }
    if (passed_) {
      passed_->accept(count, numbers.dt);
      if (passed_->steps >= most_followed) follow();
    }
    const bool steady = work_->celerities.x <= steady_growth * before.x &&
                        work_->celerities.y <= steady_growth * before.y &&
                        work_->deepest <= steady_growth * depth_before;
    together_ = steady ? std::min({2 * together_, Tiles::steps_valid, options_.most_together}) : 1;
    k += count;
    counters_.steps += count;
    counters_.cell_updates += tiles_->moving_cells * count;
    passed = count >= steps_left ? remaining : passed + even * count;
  }
  if (!std::isfinite(work_->deepest) || !std::isfinite(work_->celerities.x + work_->celerities.y))
    throw NumericsError("surface: the flow has become no number");
  return passed;
}

// Follows the sources through the steps that were made since the last time.
void Flow::follow() {
  if (!passed_ || passed_->steps == 0) return;
  tags_->step(*passed_, work_->supply, depth_);
  passed_->clear(work_->frame.size);
  tags_->begin(*tiles_);
  ++counters_.followed;
}

double Flow::give(int cell, double depth, int tag) {
  if (cell < 0 || static_cast<std::size_t>(cell) >= depth_.size() || !terrain_.active[cell])
    throw NumericsError("surface: water was given to a cell that is not part of the yard");
  if (!std::isfinite(depth)) throw NumericsError("surface: the depth given is no number");
  if (routed_) {
    at_rest_ = false;
    return routed_->give(cell, depth, depth_);
  }
  const double before = depth_[cell];
  depth_[cell] = std::max(before + depth, 0.0);
  if (tags_) tags_->give(cell, before, depth_[cell], tag);
  const double mobile = std::max(depth_[cell] - work_->storage[cell], 0.0);
  work_->set_mobile(cell, mobile);
  work_->deepest = std::max(work_->deepest, mobile);
  together_ = 1;
  if (mobile > dry_depth || depth_[cell] < before) { // look at once whether this makes anything flow
    at_rest_ = false;
    stretches_ = stretches_between_looks;
  }
  return depth_[cell] - before;
}

Tags& Flow::follow_sources(int count, int present) {
  if (routed_) throw NumericsError("surface: sources are followed by the dynamic method only");
  tags_ = std::make_unique<Tags>(terrain_, count, depth_, present);
  passed_ = std::make_unique<PassedWater>();
  passed_->clear(work_->frame.size);
  return *tags_;
}
Tags* Flow::tags() {
  return tags_.get();
}
const Tags* Flow::tags() const {
  return tags_.get();
}

const Terrain& Flow::terrain() const {
  return terrain_;
}
std::span<const double> Flow::depth() const {
  return depth_;
}
// Of the routed method these are means over the step, worked out when somebody asks.
std::span<const double> Flow::discharge_x() const {
  if (routed_) return routed_->discharge_x();
  return qx_;
}
std::span<const double> Flow::discharge_y() const {
  if (routed_) return routed_->discharge_y();
  return qy_;
}
std::span<const double> Flow::left_through() const {
  return left_;
}
std::span<const double> Flow::crossed() const {
  return crossed_;
}
bool Flow::at_rest() const {
  return at_rest_;
}
const Counters& Flow::counters() const {
  return counters_;
}

double Flow::volume() const {
  double sum = 0, lost = 0; // Neumaier's compensated sum
  for (std::size_t c = 0; c < depth_.size(); ++c) {
    if (!terrain_.active[c]) continue;
    const double next = sum + depth_[c];
    lost += std::abs(sum) >= std::abs(depth_[c]) ? (sum - next) + depth_[c] : (depth_[c] - next) + sum;
    sum = next;
  }
  return (sum + lost) * terrain_.grid.cell_area();
}

} // namespace lowspot::surface
