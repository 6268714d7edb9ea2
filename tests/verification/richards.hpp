// The reference for soil columns: Richards' equation (1931) in one dimension, mixed form (Celia, Bouloutas
// and Zarba 1990), so that mass is kept to the tolerance of the iteration whatever the step. Backward Euler,
// Newton with the exact tridiagonal Jacobian, cells of finite volume, z downwards. Brooks and Corey (1964)
// with the pores of Burdine (1953): the same figures as the column model, and none of its code.
#pragma once
#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

namespace richards {

struct Soil {
  double conductivity = 0; // m/s
  double porosity = 0, residual = 0;
  double pore_size_index = 0;
  double air_entry = 0;                               // m
  double crust_conductivity = 0, crust_thickness = 0; // at the ground; m/s, m; thickness 0: none
};

struct State {
  double content = 0, capacity = 0;       // m3/m3, and its change with head [1/m]
  double conductivity = 0, steepness = 0; // m/s, and its change with head [1/s]
};

inline State state_at(const Soil& soil, double head) {
  if (head >= -soil.air_entry) return {soil.porosity, 0, soil.conductivity, 0};
  const double ratio = soil.air_entry / -head;
  const double saturation = std::pow(ratio, soil.pore_size_index);
  const double range = soil.porosity - soil.residual;
  State state;
  state.content = soil.residual + range * saturation;
  state.capacity = range * soil.pore_size_index * saturation / -head;
  state.conductivity = soil.conductivity * saturation * saturation * saturation * ratio * ratio;
  state.steepness = state.conductivity * (3 * soil.pore_size_index + 2) / -head;
  return state;
}

inline double head_at(const Soil& soil, double content) {
  const double saturation = (content - soil.residual) / (soil.porosity - soil.residual);
  return -soil.air_entry * std::pow(saturation, -1 / soil.pore_size_index);
}

// The head at which the soil passes `rate` at unit gradient.
inline double head_passing(const Soil& soil, double rate) {
  return -soil.air_entry * std::pow(rate / soil.conductivity, -1 / (3 * soil.pore_size_index + 2));
}

enum class Bottom { free_drainage, closed };

struct Options {
  double finest = 1e-3, coarsest = 1e-2, growth = 1.02; // of the cells, from the ground down [m]
  double most_change = 0.03;                            // of content over a step
  double longest_step = 600;                            // s
};

class Column {
public:
  double infiltrated = 0, runoff = 0, drained = 0;               // m since the start
  double time = 0;                                               // s
  double ponded_since = std::numeric_limits<double>::infinity(); // when rain first exceeded what goes in
  long steps = 0;

  Column(const Soil& soil, double depth, double content, Bottom bottom, const Options& options = {})
      : soil_(soil), bottom_(bottom), options_(options) {
    double size = options.finest, below = 0;
    while (below < depth - 1e-12) {
      thickness_.push_back(std::min(size, depth - below));
      below += thickness_.back();
      size = std::min(size * options.growth, options.coarsest);
    }
    head_.assign(thickness_.size(), head_at(soil, content));
  }

  std::vector<double>& head() { return head_; }
  std::size_t cells() const { return head_.size(); }
  double centre(std::size_t cell) const {
    double top = 0;
    for (std::size_t k = 0; k < cell; ++k) top += thickness_[k];
    return top + 0.5 * thickness_[cell];
  }
  double content(std::size_t cell) const { return state_at(soil_, head_[cell]).content; }
  // Water in the top `depth` [m].
  double water(double depth = std::numeric_limits<double>::infinity()) const {
    double sum = 0, top = 0;
    for (std::size_t k = 0; k < cells() && top < depth; ++k) {
      sum += content(k) * std::min(thickness_[k], depth - top);
      top += thickness_[k];
    }
    return sum;
  }

  // Rain at a steady rate [m/s] over `duration` [s]; what does not go in runs off at once.
  void rain(double rate, double duration) {
    const double end = time + duration;
    step_ = std::min(step_, 0.1); // the flux at the top has just changed
    while (time < end - 1e-9) {
      const double dt = std::min({step_, end - time, options_.longest_step});
      const int iterations = solve(rate, dt);
      const bool good = iterations > 0 && largest_change() <= 2 * options_.most_change;
      if (!good) {
        step_ = 0.4 * dt;
        if (step_ < 1e-9) throw std::runtime_error("Richards: the step has shrunk to nothing");
        continue;
      }
      const double entering = flux_[0];
      head_ = trial_;
      if (rate > 0 && entering < rate * (1 - 1e-9)) ponded_since = std::min(ponded_since, time);
      infiltrated += entering * dt;
      runoff += (rate - entering) * dt;
      drained += flux_.back() * dt;
      time += dt;
      ++steps;
      if (largest_change() > options_.most_change || iterations > 12)
        step_ = 0.7 * dt;
      else if (dt >= 0.999 * step_ && iterations < 8)
        step_ = 1.3 * dt;
    }
  }

private:
  double largest_change() const {
    double most = 0;
    for (std::size_t k = 0; k < cells(); ++k) most = std::max(most, std::abs(now_[k].content - before_[k]));
    return most;
  }

  void evaluate(double rate) {
    const std::size_t n = cells();
    now_.resize(n);
    flux_.resize(n + 1);
    for (std::size_t k = 0; k < n; ++k) now_[k] = state_at(soil_, trial_[k]);
    const double half = 0.5 * thickness_[0];
    // The upper half of the first cell and the crust, one behind the other.
    const double mean = 0.5 * (soil_.conductivity + now_[0].conductivity);
    const double crust = soil_.crust_thickness > 0 ? soil_.crust_thickness / soil_.crust_conductivity : 0;
    const double resistance = half / mean + crust;
    most_in_ = (soil_.crust_thickness + half - trial_[0]) / resistance;
    const double softening = 0.5 * now_[0].steepness * half / (mean * mean);
    top_slope_ = most_in_ < rate ? (most_in_ * softening - 1) / resistance : 0;
    flux_[0] = std::min(rate, most_in_);
    for (std::size_t k = 0; k + 1 < n; ++k) flux_[k + 1] = face_mean(k) * face_gradient(k);
    flux_[n] = bottom_ == Bottom::closed ? 0 : now_[n - 1].conductivity;
  }
  double distance(std::size_t k) const { return 0.5 * (thickness_[k] + thickness_[k + 1]); }
  double face_mean(std::size_t k) const { return 0.5 * (now_[k].conductivity + now_[k + 1].conductivity); }
  double face_gradient(std::size_t k) const { return (trial_[k] - trial_[k + 1]) / distance(k) + 1; }

  // One step of Newton's method on all heads; returns the largest imbalance of a cell before it [m].
  double improve(double dt) {
    const std::size_t n = cells();
    right_.resize(n);
    upper_.resize(n);
    double worst = 0, lower = 0;
    for (std::size_t k = 0; k < n; ++k) {
      const double imbalance =
          (now_[k].content - before_[k]) * thickness_[k] + (flux_[k + 1] - flux_[k]) * dt;
      worst = std::max(worst, std::abs(imbalance));
      // A soil that is full has no capacity: a trace of one keeps the matrix regular, and only the matrix.
      double diagonal = std::max(now_[k].capacity, 1e-8) * thickness_[k];
      double above = 0, next = 0;
      if (k == 0)
        diagonal -= top_slope_ * dt;
      else {
        diagonal +=
            dt * (face_mean(k - 1) / distance(k - 1) - 0.5 * now_[k].steepness * face_gradient(k - 1));
        above =
            -dt * (face_mean(k - 1) / distance(k - 1) + 0.5 * now_[k - 1].steepness * face_gradient(k - 1));
      }
      if (k + 1 < n) {
        diagonal += dt * (face_mean(k) / distance(k) + 0.5 * now_[k].steepness * face_gradient(k));
        next = dt * (-face_mean(k) / distance(k) + 0.5 * now_[k + 1].steepness * face_gradient(k));
      } else if (bottom_ == Bottom::free_drainage) {
        diagonal += dt * now_[k].steepness;
      }
      lower = above;
      const double pivot = diagonal - (k > 0 ? lower * upper_[k - 1] : 0);
      upper_[k] = next / pivot;
      right_[k] = (-imbalance - (k > 0 ? lower * right_[k - 1] : 0)) / pivot;
    }
    for (std::size_t k = n - 1; k-- > 0;) right_[k] -= upper_[k] * right_[k + 1];
    for (std::size_t k = 0; k < n; ++k) {
      // From dry soil a full step would overshoot: no more than nine tenths of the way to the air entry.
      const double most = std::max(soil_.air_entry, 0.9 * std::abs(trial_[k]));
      // The capacity jumps at the air entry: a head that crosses it stops there for one iteration.
      const double entry = -soil_.air_entry, old = trial_[k];
      trial_[k] += std::clamp(right_[k], -4 * most, most);
      if ((old - entry) * (trial_[k] - entry) < 0)
        trial_[k] = entry + std::copysign(1e-14, trial_[k] - entry);
    }
    return worst;
  }

  // Iterations needed, or 0 when it did not settle.
  int solve(double rate, double dt) {
    before_.resize(cells());
    for (std::size_t k = 0; k < cells(); ++k) before_[k] = content(k);
    trial_ = head_;
    for (int iteration = 1; iteration <= 25; ++iteration) {
      evaluate(rate);
      const std::vector<double> kept = trial_;
      if (improve(dt) < 1e-13) {
        trial_ = kept;
        return iteration;
      }
    }
    return 0;
  }

  Soil soil_;
  Bottom bottom_;
  Options options_;
  double step_ = 1e-3;
  double most_in_ = 0, top_slope_ = 0;
  std::vector<double> thickness_, head_, trial_, before_, right_, upper_, flux_;
  std::vector<State> now_;
};

} // namespace richards
