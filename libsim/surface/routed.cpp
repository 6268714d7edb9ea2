#include <lowspot/surface/routed.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

#include <lowspot/surface/calm.hpp>
#include <lowspot/surface/route_pool_turns.hpp>
#include <lowspot/surface/route_section_turns.hpp>
#include <lowspot/surface/route_sections.hpp>

namespace lowspot::surface {
namespace {

// Steps become this many times as long as where flow changes quickly.
constexpr double longest_growth = 5;
// From one step to the next they grow by no more than this.
constexpr double step_growth = 1.5;
// They are such that the outflow of all cells together changes by this share in one.
constexpr double change_in_step = 0.1;
// A change passes through nothing at the peak of a flow: this share of the rate at which flow changed in the
// last step still counts.
constexpr double rate_kept = 0.85;
// A supply that changes by more than this share from one call to the next changes flow quickly.
constexpr double steady_supply = 0.1;
// Sections are found anew in one of so many steps.
constexpr int sections_every = 4;

} // namespace

RoutedFlow::RoutedFlow(const Terrain& terrain, double longest_step)
    : graph_(std::make_shared<const RouteGraph>(terrain)), water_(*graph_), pools_(*graph_, water_),
      slopes_(*graph_), faces_(*graph_, terrain.open_faces.size()), longest_step_(longest_step),
      next_step_(longest_step) {
  const auto count = [&](int i, int j) {
    const int slot = graph_->grid.inside(i, j) ? graph_->slot[graph_->grid.index(i, j)] : -1;
    if (slot >= 0) faces_.count(*graph_, slot);
  };
  const int nx = graph_->grid.nx;
  for (const FaceSet& line : terrain.lines) {
    for (const int face : line.x_faces)
      for (const int beside : {-1, 0}) count(face % (nx + 1) + beside, face / (nx + 1));
    for (const int face : line.y_faces)
      for (const int beside : {-1, 0}) count(face % nx, face / nx + beside);
  }
}

void RoutedFlow::advance(double dt, std::span<const double> supply, std::span<const double> sink,
                         std::span<double> depth, std::span<double> taken, std::span<double> left) {
  if (crossed_) faces_.clear();
  crossed_ = false;
  discharges_.forget();
  advanced_ = dt;
  const bool supplied = std::any_of(supply.begin(), supply.end(), [](double rate) { return rate > 0; });
  if (at_rest_ && !supplied) {
    rest(dt, sink, depth, taken);
  } else {
    wet_known_ = false;
    flow(dt, supply, sink, depth, taken);
  }
  if (crossed_) faces_.count_left();
  std::copy(faces_.left.begin(), faces_.left.end(), left.begin());
}

void RoutedFlow::flow(double dt, std::span<const double> supply, std::span<const double> sink,
                      std::span<double> depth, std::span<double> taken) {
  const int slots = static_cast<int>(graph_->cell.size());
  bool fed = false;
  double supplied = 0;
  for (int s = 0; s < slots; ++s) {
    const int cell = graph_->cell[s];
    water_.supply[s] = supply[cell];
    water_.sink[s] = sink[cell];
    water_.taken[s] = 0;
    fed |= water_.supply[s] > water_.sink[s];
    supplied += water_.supply[s];
  }
  if (std::abs(supplied - supplied_) > steady_supply * std::max(supplied, supplied_))
    next_step_ = longest_step_;
  supplied_ = supplied;
  for (double left = dt; left > 0;) {
    // At rest only sources act, and a step may be as long as the caller likes.
    const double longest = at_rest_ && !fed ? left : next_step_;
    const double pieces = std::max(std::ceil(left / longest * (1 - 1e-12)), 1.0), piece = left / pieces;
    order_pools(*graph_, pools_, water_);
    if (at_rest_)
      forget_sections(*graph_, water_, slopes_);
    else
      update_sections(piece);
    book(sweep_downhill(piece, *graph_, pools_, water_, slopes_, faces_), piece);
    if (!at_rest_) sweep_uphill(piece, *graph_, pools_, water_, slopes_);
    ++steps_;
    left = pieces > 1 ? left - piece : 0.0;
  }
  for (int d : pools_.active) pools_.settle_depths(d, water_);
  for (int s = 0; s < slots; ++s) {
    depth[graph_->cell[s]] = water_.depth[s];
    taken[graph_->cell[s]] = water_.taken[s];
  }
}

void RoutedFlow::update_sections(double dt) {
  if (steps_ % sections_every == 0 || slopes_.sections.sections.empty())
    find_sections(dt, *graph_, pools_, water_, slopes_);
  else
    keep_sections(*graph_, pools_, water_, slopes_);
}

// Nothing is supplied and hardly anything moves: only what holds water is looked at, and in one step.
void RoutedFlow::rest(double dt, std::span<const double> sink, std::span<double> depth,
                      std::span<double> taken) {
  if (!wet_known_) find_wet();
  const long spread = pools_.spread;
  faces_.called = false;
  for (int s : wet_) {
    water_.sink[s] = sink[graph_->cell[s]];
    water_.taken[s] = 0;
  }
  if (dt > 0) {
    order_pools(*graph_, pools_, water_);
    forget_sections(*graph_, water_, slopes_);
    book(sweep_downhill(dt, wet_packs_, *graph_, pools_, water_, slopes_, faces_), dt);
    ++steps_;
  }
  for (int d : pools_.active) pools_.settle_depths(d, water_);
  for (int s : wet_) {
    depth[graph_->cell[s]] = water_.depth[s];
    taken[graph_->cell[s]] = water_.taken[s];
  }
  if (wet_known_ && !faces_.called && pools_.spread == spread) return;
  // What has moved has wetted others; their sinks count from the next step.
  wet_known_ = false;
  for (std::size_t s = 0; s < graph_->cell.size(); ++s) depth[graph_->cell[s]] = water_.depth[s];
}

// The others have no supply and no sink until they are looked at again.
void RoutedFlow::find_wet() {
  wet_.clear();
  wet_packs_.clear();
  listed_.assign(graph_->cell.size(), 0);
  for (Aligned<double>* field : {&water_.supply, &water_.sink, &water_.taken, &water_.thirst})
    std::fill(field->begin(), field->end(), 0.0);
  // Films trickle on for days: where they go is looked at too, so that the list need not be made anew each
  // time.
  looked_at_.assign(slopes_.all_packs.size(), 0);
  const int slots = static_cast<int>(graph_->cell.size());
  for (int s = 0; s < slots; ++s) {
    if (!(water_.depth[s] > 0) && water_.pool_of[s] < 0) continue;
    looked_at_[slopes_.pack_of[s]] = 1;
    if (!(water_.depth[s] > graph_->storage[s])) continue;
    for (const Aligned<int>& side : slopes_.to)
      if (side[s] < slots) looked_at_[slopes_.pack_of[side[s]]] = 1;
  }
  for (const int pack : slopes_.all_packs) {
    if (!looked_at_[pack]) continue;
    wet_packs_.push_back(pack);
    for (int s = slopes_.pack[pack]; s < slopes_.pack[pack + 1]; ++s) {
      wet_.push_back(s);
      listed_[s] = 1;
    }
  }
  wet_known_ = true;
}

// Ends a step of dt [s].
void RoutedFlow::book(const Swept& swept, double dt) {
  crossed_ |= swept.greatest > 0;
  // Over two steps, since what a pool holds back in one it may pass in the next.
  const double change = 0.5 * std::abs(swept.passed - passed_before_);
  change_rate_ = std::max(change / std::max(dt * swept.passed, 1e-30), rate_kept * change_rate_);
  const double wanted = change_in_step / std::max(change_rate_, 1e-30);
  next_step_ = std::clamp(std::min(wanted, dt * step_growth), longest_step_, longest_growth * longest_step_);
  passed_before_ = std::exchange(passed_, swept.passed);
  collect();
  const bool late = pass_on_late(dt);
  crossed_ |= late;
  pools_.rearrange(water_);
  at_rest_ = !late && swept.greatest * graph_->grid.cell <= film_discharge;
}

// Late water goes on within the step where it would otherwise stand high: a small pool in a stream would hold
// a whole step of it. Whether there was any.
bool RoutedFlow::pass_on_late(double dt) {
  if (std::none_of(pools_.active.begin(), pools_.active.end(),
                   [&](int d) { return has_risen(pools_.pool(d)); }))
    return false;
  sweep_again(dt, *graph_, pools_, water_, slopes_, faces_);
  collect();
  return true;
}

// What arrived where the sweep had already passed stays there until the next.
void RoutedFlow::collect() {
  const int slots = static_cast<int>(graph_->cell.size());
  const double* inflow = water_.inflow.data();
  constexpr int together = 8;
  for (int s = 0; s < slots; ++s) {
    if (s % together == 0 && s + together <= slots) {
      double most = 0;
      for (int k = 0; k < together; ++k) most = std::max(most, inflow[s + k]);
      if (!(most > 0)) {
        s += together - 1;
        continue;
      }
    }
    const double late = inflow[s];
    if (!(late > 0)) continue;
    water_.inflow[s] = 0;
    if (water_.pool_of[s] >= 0)
      pools_.pool(water_.pool_of[s]).inflow += late;
    else {
      water_.depth[s] += late;
      wet_known_ = wet_known_ && listed_[s];
    }
  }
  for (const int d : pools_.active)
    if (pools_.pool(d).inflow > 0) take_late(d, *graph_, pools_, water_);
}

void RoutedFlow::find_discharges(Field& x, Field& y) const {
  const Grid& grid = graph_->grid;
  x.assign(grid.x_faces(), 0.0);
  y.assign(grid.y_faces(), 0.0);
  if (!crossed_ || !(advanced_ > 0)) return;
  const double per_depth = grid.cell / advanced_;
  for (std::size_t s = 0; s < graph_->cell.size(); ++s) {
    const int cell = graph_->cell[s], west = cell + grid.row(cell);
    const auto passed = [&](int side) { return per_depth * static_cast<double>(faces_.passed[side][s]); };
    x[west] -= passed(0);
    x[west + 1] += passed(1);
    y[cell] -= passed(2);
    y[cell + grid.nx] += passed(3);
  }
}

std::span<const double> RoutedFlow::discharge_x() const {
  discharges_.find([this](Field& x, Field& y) { find_discharges(x, y); });
  return discharges_.x();
}
std::span<const double> RoutedFlow::discharge_y() const {
  discharges_.find([this](Field& x, Field& y) { find_discharges(x, y); });
  return discharges_.y();
}

double RoutedFlow::give(int cell, double change, std::span<double> depth) {
  wet_known_ = false;
  const int s = graph_->slot[cell], d = water_.pool_of[s];
  const double moved = std::max(change, -depth[cell]);
  at_rest_ = false;
  if (d < 0) {
    water_.depth[s] += moved;
    if (moved < 0) water_.depth[s] = std::max(water_.depth[s], 0.0);
    depth[cell] = water_.depth[s];
    return moved;
  }
  RoutedPool& pool = pools_.pool(d);
  double given = moved;
  if (pool.volume > 0 && given < 0) {
    given = std::max(given, -std::min(depth[cell] - graph_->storage[s], pool.volume));
    pool.volume += given;
  } else if (given < 0) {
    water_.depth[s] += given;
  } else {
    pool.inflow += given;
    collect();
  }
  pools_.settle(d, water_);
  for (int k : pools_.active) pools_.settle_depths(k, water_);
  for (std::size_t k = 0; k < graph_->cell.size(); ++k) depth[graph_->cell[k]] = water_.depth[k];
  return given;
}

} // namespace lowspot::surface
