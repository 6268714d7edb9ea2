#include <lowspot/study/sideways.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/site/combine.hpp>

namespace lowspot::study {
namespace {

constexpr double on_edge = 1e-3;    // m
constexpr double same_place = 0.15; // m: as runs, fittings and outlets are joined

Point left_of(const Point& a, const Point& b) {
  const double span = distance(a, b);
  return span > 0 ? Point{-(b.y - a.y) / span, (b.x - a.x) / span} : Point{0, 0};
}

double dot(const Point& a, const Point& b) {
  return a.x * b.x + a.y * b.y;
}

// From the nearest point of a closed outline to `at`; outwards also for a point inside it.
Point away_from(const Polygon& outline, const Point& at) {
  Polyline ring = outline;
  ring.push_back(outline.front());
  double along = 0;
  distance_to(ring, at, &along);
  const Point near = point_along(ring, along);
  const double sign = contains(outline, at) ? -1 : 1;
  return {sign * (at.x - near.x), sign * (at.y - near.y)};
}

// Which way is away, at a place [m].
Point away_at(const site::Site& site, const site::Design& design, const Point& at) {
  Point best{0, 0};
  double least = -1;
  const auto consider = [&](const Polygon& outline) {
    const Point away = away_from(outline, at);
    const double gap = std::hypot(away.x, away.y);
    if (least >= 0 && gap >= least) return;
    least = gap;
    best = away;
  };
  for (const site::Area& area : site.areas)
    if (area.impervious) consider(area.outline);
  for (const site::Building& building : site.buildings) consider(building.outline);
  if (least < 0 && !design.outlets.empty()) {
    const Point& outlet = design.outlets.front().at;
    best = {outlet.x - at.x, outlet.y - at.y};
  }
  return best;
}

// Whether there is paving or a building at a place.
bool built_on(const site::Site& site, const Point& at) {
  return std::any_of(site.areas.begin(), site.areas.end(),
                     [&](const auto& area) { return area.impervious && contains(area.outline, at); }) ||
         std::any_of(site.buildings.begin(), site.buildings.end(),
                     [&](const auto& building) { return contains(building.outline, at); });
}

// Away from what a piece lies along the edge of, where no direction leads away from a place on the edge.
Point off_the_edge(const site::Site& site, const Point& at, const Point& left) {
  constexpr double beside = 0.1; // m
  const bool on_left = built_on(site, {at.x + beside * left.x, at.y + beside * left.y});
  const bool on_right = built_on(site, {at.x - beside * left.x, at.y - beside * left.y});
  const double way = on_left == on_right ? 0 : on_left ? -1 : 1;
  return {way * left.x, way * left.y};
}

// +1 where away lies to the left of the flow, -1 to the right.
double side_of(const site::Site& site, const site::Design& design, const site::Run& run) {
  double sum = 0;
  for (std::size_t k = 1; k < run.path.size(); ++k) {
    const Point& a = run.path[k - 1];
    const Point& b = run.path[k];
    const Point middle{(a.x + b.x) / 2, (a.y + b.y) / 2};
    Point away = away_at(site, design, middle);
    if (std::hypot(away.x, away.y) < on_edge) away = off_the_edge(site, middle, left_of(a, b));
    sum += distance(a, b) * dot(left_of(a, b), away);
  }
  return sum < 0 ? -1 : 1;
}

struct Pull { // a piece that meets the point asks it to move this far along its normal
  Point normal;
  double by;
};

// The shortest step that meets every pull, or comes nearest to them in the least squares.
Point step_for(const std::vector<Pull>& pulls, double most) {
  double xx = 0, xy = 0, yy = 0, bx = 0, by = 0;
  for (const Pull& pull : pulls) {
    xx += pull.normal.x * pull.normal.x;
    xy += pull.normal.x * pull.normal.y;
    yy += pull.normal.y * pull.normal.y;
    bx += pull.normal.x * pull.by;
    by += pull.normal.y * pull.by;
  }
  // Eigenvectors of the 2 by 2 normal matrix; directions that nobody asks for are left alone.
  const double middle = (xx + yy) / 2, spread = std::hypot((xx - yy) / 2, xy);
  const double angle = 0.5 * std::atan2(2 * xy, xx - yy);
  Point step{0, 0};
  const double large = middle + spread, small = middle - spread;
  const Point first{std::cos(angle), std::sin(angle)}, second{-first.y, first.x};
  const auto add = [&](const Point& axis, double value) {
    if (value <= 1e-3 * large) return;
    const double along = (axis.x * bx + axis.y * by) / value;
    step.x += along * axis.x;
    step.y += along * axis.y;
  };
  add(first, large);
  add(second, small);
  const double length = std::hypot(step.x, step.y);
  if (length > most) step = {step.x * most / length, step.y * most / length};
  return step;
}

// Outlets, inlets, the ends of channels, and what stands from an earlier stage.
bool stays(const site::Design& design, const Point& at) {
  const auto near = [&](const Point& place) { return distance(place, at) <= same_place; };
  const auto here = [&](const auto& thing) { return near(thing.at); };
  const auto standing = [&](const auto& thing) { return site::stands_already(design, thing.name); };
  return std::any_of(design.outlets.begin(), design.outlets.end(), here) ||
         std::any_of(design.inlets.begin(), design.inlets.end(), here) ||
         std::any_of(design.channels.begin(), design.channels.end(),
                     [&](const site::Channel& channel) { return near(channel.path.back()); }) ||
         std::any_of(design.fittings.begin(), design.fittings.end(),
                     [&](const site::Fitting& fitting) { return standing(fitting) && here(fitting); }) ||
         std::any_of(design.runs.begin(), design.runs.end(), [&](const site::Run& run) {
           return standing(run) && distance_to(run.path, at) <= same_place;
         });
}

} // namespace

void move_sideways(const site::Site& site, const std::vector<bool>& varied, double distance_aside,
                   site::Design& design) {
  if (distance_aside == 0) return;
  const site::Design before = design;
  std::vector<double> side(design.runs.size(), 0);
  for (std::size_t r = 0; r < design.runs.size(); ++r)
    if (varied[r]) side[r] = side_of(site, before, before.runs[r]);
  const auto moved = [&](const Point& at) {
    std::vector<Pull> pulls;
    for (std::size_t r = 0; r < before.runs.size(); ++r)
      for (std::size_t k = 1; varied[r] && k < before.runs[r].path.size(); ++k) {
        const Point& a = before.runs[r].path[k - 1];
        const Point& b = before.runs[r].path[k];
        if (distance(a, at) <= same_place || distance(b, at) <= same_place)
          pulls.push_back({left_of(a, b), side[r] * distance_aside});
      }
    if (pulls.empty() || stays(before, at)) return at;
    const Point step = step_for(pulls, 3 * std::abs(distance_aside));
    return Point{at.x + step.x, at.y + step.y};
  };
  for (std::size_t r = 0; r < design.runs.size(); ++r) {
    Polyline& path = design.runs[r].path;
    if (varied[r])
      for (Point& point : path) point = moved(point);
    else { // a carrier follows the fitting it begins or ends at
      path.front() = moved(path.front());
      path.back() = moved(path.back());
    }
  }
  for (site::Fitting& fitting : design.fittings) fitting.at = moved(fitting.at);
}

} // namespace lowspot::study
