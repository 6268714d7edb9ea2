#include <lowspot/terrain/neighbours.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>

#include <lowspot/terrain/breaklines.hpp>
#include <lowspot/terrain/parted_by_building.hpp>

namespace lowspot::terrain {
namespace {

constexpr int looked_at = 20; // nearest points among which a guess finds its own
constexpr int most_in_guess = 8;

// In plan. Called a thousand times a shot: the care of std::hypot for the largest numbers is not needed here.
double distance_between(const Point3& a, const Point3& b) {
  const double dx = a.x - b.x, dy = a.y - b.y;
  return std::sqrt(dx * dx + dy * dy);
}

// The plane through the points by weighted least squares, as shares of each in its elevation at `at`.
std::optional<Guess> plane_guess(const Survey& survey, const Point3& at, const std::vector<int>& points) {
  if (points.size() < 3) return std::nullopt;
  double reach = 0;
  for (int k : points)
    reach += distance_between(survey.points[k].at, at) / static_cast<double>(points.size());
  // Normal equations of z = a + b x + c y about the place, in units of the mean distance.
  double s[3][3] = {};
  std::vector<std::array<double, 3>> rows;
  std::vector<double> weights;
  rows.reserve(points.size());
  weights.reserve(points.size());
  for (int k : points) {
    const double x = (survey.points[k].at.x - at.x) / reach, y = (survey.points[k].at.y - at.y) / reach;
    const double weight = 1 / (0.1 + x * x + y * y); // one point close by is still one point
    const std::array<double, 3> row = {1, x, y};
    for (int r = 0; r < 3; ++r)
      for (int c = 0; c < 3; ++c) s[r][c] += weight * row[r] * row[c];
    rows.push_back(row);
    weights.push_back(weight);
  }
  // The first column of the inverse gives the elevation at the place.
  const double a = s[1][1] * s[2][2] - s[1][2] * s[2][1];
  const double b = s[1][2] * s[2][0] - s[1][0] * s[2][2];
  const double c = s[1][0] * s[2][1] - s[1][1] * s[2][0];
  const double determinant = s[0][0] * a + s[0][1] * b + s[0][2] * c;
  if (!(determinant > 1e-6 * s[0][0] * s[0][0] * s[0][0])) return std::nullopt; // nearly on one line
  Guess guess;
  double squares = 0;
  for (std::size_t k = 0; k < points.size(); ++k) {
    const double share = weights[k] * (rows[k][0] * a + rows[k][1] * b + rows[k][2] * c) / determinant;
    guess.from.push_back(points[k]);
    guess.share.push_back(share);
    guess.z += share * survey.points[points[k]].at.z;
    squares += share * share;
  }
  guess.spread = std::sqrt(1 + squares);
  return guess;
}

} // namespace

Neighbours::Neighbours(const Survey& survey) : survey_(survey) {
  if (survey.points.empty()) return;
  Point low{survey.points[0].at.x, survey.points[0].at.y}, high = low;
  for (const SurveyPoint& p : survey.points) {
    low = {std::min(low.x, p.at.x), std::min(low.y, p.at.y)};
    high = {std::max(high.x, p.at.x), std::max(high.y, p.at.y)};
  }
  const double area = std::max((high.x - low.x) * (high.y - low.y), 1e-6);
  const double longest = std::max(high.x - low.x, high.y - low.y);
  side_ = std::max({std::sqrt(4 * area / static_cast<double>(survey.points.size())), longest / 2000, 1e-3});
  x0_ = low.x;
  y0_ = low.y;
  nx_ = static_cast<int>((high.x - low.x) / side_) + 1;
  ny_ = static_cast<int>((high.y - low.y) / side_) + 1;
  squares_.resize(static_cast<std::size_t>(nx_) * ny_);
  for (std::size_t k = 0; k < survey.points.size(); ++k) {
    const int i = static_cast<int>((survey.points[k].at.x - x0_) / side_);
    const int j = static_cast<int>((survey.points[k].at.y - y0_) / side_);
    squares_[static_cast<std::size_t>(j) * nx_ + i].push_back(static_cast<int>(k));
  }
}

std::vector<int> Neighbours::near(const Point3& at, int most, const std::vector<char>& left_out,
                                  int self) const {
  std::vector<std::pair<double, int>> found;
  if (parted_by_building(survey_.buildings, {at.x, at.y}, {at.x, at.y})) return {}; // a floor is no ground
  const int ci = static_cast<int>(std::clamp((at.x - x0_) / side_, -1.0, nx_ + 0.0));
  const int cj = static_cast<int>(std::clamp((at.y - y0_) / side_, -1.0, ny_ + 0.0));
  for (int ring = 0; ring <= nx_ + ny_ + 2; ++ring) {
    for (int j = cj - ring; j <= cj + ring; ++j)
      for (int i = ci - ring; i <= ci + ring; ++i) {
        if (std::max(std::abs(i - ci), std::abs(j - cj)) != ring) continue;
        if (i < 0 || j < 0 || i >= nx_ || j >= ny_) continue;
        for (int k : squares_[static_cast<std::size_t>(j) * nx_ + i]) {
          if (k == self || left_out[k]) continue;
          const Point3& p = survey_.points[k].at;
          const double gap = distance_between(p, at);
          if ((self >= 0 && gap < 1e-3) || parted_by_edge(survey_, at, p) ||
              parted_by_building(survey_.buildings, {at.x, at.y}, {p.x, p.y}))
            continue;
          found.emplace_back(gap, k);
        }
      }
    if (static_cast<int>(found.size()) < most) continue;
    // Whatever lies in rings not yet seen is further off than this.
    std::nth_element(found.begin(), found.begin() + (most - 1), found.end());
    if (found[most - 1].first <= ring * side_ || ring > nx_ + ny_) break;
  }
  std::sort(found.begin(), found.end());
  if (static_cast<int>(found.size()) > most) found.resize(most);
  std::vector<int> points;
  for (const auto& [gap, k] : found) points.push_back(k);
  return points;
}

std::vector<Guess> Neighbours::guesses(const Point3& at, const std::vector<char>& left_out, int self) const {
  const std::vector<int> around = near(at, looked_at, left_out, self);
  std::vector<Guess> result;
  // Where each lies as seen from the place. Looked at sixteen times below, so worked out once.
  std::vector<Point> offsets;
  std::vector<double> distances;
  for (int k : around) {
    offsets.push_back({survey_.points[k].at.x - at.x, survey_.points[k].at.y - at.y});
    distances.push_back(distance_between(survey_.points[k].at, at));
  }
  // All round: no more than two from each eighth of the circle, so that a row of shots does not crowd out
  // the rest.
  std::vector<int> chosen;
  std::array<int, 8> taken{};
  for (std::size_t n = 0; n < around.size(); ++n) {
    const double eighths = std::atan2(offsets[n].y, offsets[n].x) / (std::numbers::pi / 4);
    int& count = taken[static_cast<std::size_t>(static_cast<int>(std::floor(eighths)) + 8) % 8];
    if (count >= 2 || chosen.size() >= 2 * most_in_guess) continue;
    ++count;
    chosen.push_back(around[n]);
  }
  if (auto guess = plane_guess(survey_, at, chosen)) result.push_back(std::move(*guess));
  // Halves, then quarters: the inside of a corner.
  constexpr double half = std::numbers::sqrt2 / 2;
  constexpr std::array<Point, 8> ways = {Point{1, 0}, {half, half},   {0, 1},  {-half, half},
                                         {-1, 0},     {-half, -half}, {0, -1}, {half, -half}};
  for (double least : {-0.015, 0.69}) // cosines of the angle on either side
    for (const Point& way : ways) {
      chosen.clear();
      for (std::size_t n = 0; n < around.size() && chosen.size() < most_in_guess; ++n)
        if (offsets[n].x * way.x + offsets[n].y * way.y >= least * distances[n]) chosen.push_back(around[n]);
      if (auto guess = plane_guess(survey_, at, chosen)) result.push_back(std::move(*guess));
    }
  return result;
}

} // namespace lowspot::terrain
