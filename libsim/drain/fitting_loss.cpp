#include <lowspot/drain/fitting_loss.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace lowspot::drain {

namespace {

Point first_direction(const Polyline& path) {
  for (std::size_t k = 1; k < path.size(); ++k)
    if (distance(path[k - 1], path[k]) > 0) return {path[k].x - path[k - 1].x, path[k].y - path[k - 1].y};
  return {};
}

Point last_direction(const Polyline& path) {
  for (std::size_t k = path.size() - 1; k > 0; --k)
    if (distance(path[k - 1], path[k]) > 0) return {path[k].x - path[k - 1].x, path[k].y - path[k - 1].y};
  return {};
}

const Fitting* fitting_at(const Layout& layout, int place) {
  return place >= 0 && place < static_cast<int>(layout.fittings.size()) ? &layout.fittings[place] : nullptr;
}

} // namespace

double bend_loss(double angle) {
  const double s = std::sin(0.5 * std::clamp(angle, 0.0, std::numbers::pi));
  return 0.946 * s * s + 2.047 * s * s * s * s;
}

double turn_angle(const Point& from, const Point& to) {
  return std::abs(std::atan2(from.x * to.y - from.y * to.x, from.x * to.x + from.y * to.y));
}

double bend_losses(const Run& run, double from, double to) {
  double sum = 0, passed = 0;
  for (std::size_t k = 1; k + 1 < run.path.size(); ++k) {
    const Point &a = run.path[k - 1], &b = run.path[k], &c = run.path[k + 1];
    passed += distance(a, b);
    if (passed > from && passed <= to)
      sum += bend_loss(turn_angle({b.x - a.x, b.y - a.y}, {c.x - b.x, c.y - b.y}));
  }
  return sum;
}

double arrival_loss(const Layout& layout, const Connections& joined, int run) {
  const int place = joined.runs[run].foot;
  const Fitting* fitting = fitting_at(layout, place);
  if (place < 0 || (!fitting && place < static_cast<int>(layout.fittings.size() + layout.outlets.size())))
    return 0; // at an outlet the law of the outlet holds
  if (fitting && std::isfinite(fitting->loss)) return fitting->loss;
  if (fitting && fitting->chamber.area > 0) return 1; // in a box the velocity is lost
  double least = std::numbers::pi;
  bool found = false;
  for (std::size_t next = 0; next < layout.runs.size(); ++next) {
    if (joined.runs[next].head != place) continue;
    found = true;
    least = std::min(
        least, turn_angle(last_direction(layout.runs[run].path), first_direction(layout.runs[next].path)));
  }
  return found ? bend_loss(least) : 0;
}

double entry_loss(const Layout& layout, const Connections& joined, int run) {
  const Fitting* fitting = fitting_at(layout, joined.runs[run].head);
  return fitting && fitting->chamber.area > 0 ? entrance_loss : 0;
}

} // namespace lowspot::drain
