// How long each cell stands deeper than a limit, interpolated inside every step, and what counts as a puddle.
#pragma once
#include <span>

#include <lowspot/base/field.hpp>

namespace lowspot::results {

// A square foot [m2]: a puddle smaller than that is none, and does not keep a place wet.
inline constexpr double least_puddle = 0.09290304;

// Counts for each cell the time in which it stands.
class StandingTime {
public:
  // limit: depth [m] that counts as standing. Starts with dry ground, or the depths at time 0.
  StandingTime(double limit, std::span<const double> depth);

  // A step from t0 to t1 [s] at whose end the depths are `depth` [m]; linear in between. Time after
  // end_of_rain is also counted by itself.
  void step(double t0, double t1, std::span<const double> depth, double end_of_rain);

  const Field& total() const { return total_; }           // s a cell
  const Field& after_rain() const { return after_rain_; } // s a cell
  const Field& last() const { return last_; }             // s: the last moment it stood, 0 if never
  bool standing(std::size_t cell) const { return before_[cell] > limit_; } // now
  double limit() const { return limit_; }

private:
  double limit_;
  Field before_, total_, after_rain_, last_;
};

// The moment [s] after which less than `least_area` of an area still stands: cells with their areas [m2] and
// the last moment each stood. 0 when it never stood that wide.
double last_standing(std::span<const int> cells, std::span<const double> areas, const Field& last,
                     double least_area);

} // namespace lowspot::results
