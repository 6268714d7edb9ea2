// What the points round a place say of the ground there.
#pragma once
#include <vector>

#include <lowspot/terrain/survey.hpp>

namespace lowspot::terrain {

// A guess of the ground's elevation from points on one or all sides: the plane nearest to them, nearer ones
// weighing more.
struct Guess {
  double z = 0;          // m
  double spread = 0;     // root of 1 + the sum of squared shares: 1 far inside many points, more beyond them
  std::vector<int> from; // points
  std::vector<double> share; // of each in the guess; they add up to 1
};

// The points of a survey, ready to be asked for those near a place.
class Neighbours {
public:
  // Keeps a reference to the survey, which must outlive it.
  explicit Neighbours(const Survey& survey);

  // Up to `most` nearest points, nearest first, without those for which `left_out` is set, the point `self`,
  // points on the very place, and points across a breakline or a building.
  std::vector<int> near(const Point3& at, int most, const std::vector<char>& left_out, int self) const;
  // Guesses from all sides first, then from each of eight half-planes: where the ground has an edge, the
  // points on its own side agree with a shot and the others do not.
  std::vector<Guess> guesses(const Point3& at, const std::vector<char>& left_out, int self) const;

private:
  const Survey& survey_;
  double side_ = 1; // of the squares that points are sorted into [m]
  double x0_ = 0, y0_ = 0;
  int nx_ = 1, ny_ = 1;
  std::vector<std::vector<int>> squares_;
};

} // namespace lowspot::terrain
