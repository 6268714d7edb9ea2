#include <lowspot/report/label_layout.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace lowspot::report {

double overlap(const Rectangle& a, const Rectangle& b) {
  const double width = std::min(a.x + a.width, b.x + b.width) - std::max(a.x, b.x);
  const double height = std::min(a.y + a.height, b.y + b.height) - std::max(a.y, b.y);
  return width > 0 && height > 0 ? width * height : 0;
}

bool holds(const Rectangle& outer, const Rectangle& inner) {
  return inner.x >= outer.x && inner.y >= outer.y && inner.x + inner.width <= outer.x + outer.width &&
         inner.y + inner.height <= outer.y + outer.height;
}

namespace {
// The box of a name with the room that keeps it apart from the next.
Rectangle with_room(const Rectangle& box) {
  return {box.x - room_between, box.y - room_between, box.width + 2 * room_between,
          box.height + 2 * room_between};
}

// The point of a box nearest to another.
Point nearest_in(const Rectangle& box, const Point& to) {
  return {std::clamp(to.x, box.x, box.x + box.width), std::clamp(to.y, box.y, box.y + box.height)};
}

// From the name to the nearest of what it names, where that is not beside it.
std::vector<Point> leader_of(const Label& label, const Rectangle& place) {
  std::vector<Point> leader;
  double least = std::numeric_limits<double>::infinity();
  for (const Point& end : label.about) {
    const Point start = nearest_in(place, end);
    const double away = distance(start, end);
    if (away >= least) continue;
    least = away;
    leader = {start, end};
  }
  if (least <= beside) leader.clear();
  return leader;
}

bool runs_through_a_name(const std::vector<Point>& leader, const std::vector<PlacedLabel>& placed) {
  constexpr int samples = 16;
  for (int k = 0; k <= samples && !leader.empty(); ++k) {
    const double share = static_cast<double>(k) / samples;
    const Rectangle dot{leader[0].x + share * (leader[1].x - leader[0].x) - 1,
                        leader[0].y + share * (leader[1].y - leader[0].y) - 1, 2, 2};
    for (const PlacedLabel& other : placed)
      if (overlap(other.at, dot) > 0) return true;
  }
  return false;
}

// Whether the line to what is named would part a pipe or a mark on its way there.
bool parts_a_mark(const std::vector<Point>& leader, const std::vector<Obstacle>& obstacles) {
  constexpr int samples = 16;
  constexpr double end = 5; // what is named may be a mark itself
  for (int k = 0; k <= samples && !leader.empty(); ++k) {
    const double share = static_cast<double>(k) / samples;
    const Point at{leader[0].x + share * (leader[1].x - leader[0].x),
                   leader[0].y + share * (leader[1].y - leader[0].y)};
    if (distance(at, leader[1]) < end) break;
    const Rectangle dot{at.x - 1, at.y - 1, 2, 2};
    for (const Obstacle& obstacle : obstacles)
      if (obstacle.weight >= weight_of_marks && overlap(obstacle.box, dot) > 0) return true;
  }
  return false;
}

bool covers_words(const Rectangle& place, const std::vector<Obstacle>& obstacles) {
  return std::any_of(obstacles.begin(), obstacles.end(), [&](const Obstacle& obstacle) {
    return obstacle.weight >= weight_of_words && overlap(obstacle.box, place) > 0;
  });
}

// What a place costs: 1 where all of the name lies over water.
double cost_of(const Label& label, const Rectangle& place, const std::vector<Obstacle>& obstacles,
               const std::vector<PlacedLabel>& placed) {
  constexpr double of_a_leader = 0.2, of_a_parted_mark = 0.6, of_a_crossing = 3;
  constexpr double spread_over = 40; // a line through a name is no better for the name being long
  double covered = 0, crossed = 0;
  for (const Obstacle& obstacle : obstacles)
    (obstacle.weight >= weight_of_outlines ? crossed : covered) +=
        obstacle.weight * overlap(obstacle.box, place);
  double cost =
      covered / (place.width * place.height) + crossed / (std::min(place.width, spread_over) * place.height);
  const std::vector<Point> leader = leader_of(label, place);
  if (!leader.empty()) cost += of_a_leader;
  if (parts_a_mark(leader, obstacles)) cost += of_a_parted_mark;
  if (runs_through_a_name(leader, placed)) cost += of_a_crossing;
  return cost;
}
} // namespace

void add_obstacles(const std::vector<Point>& line, double width, double weight,
                   std::vector<Obstacle>& obstacles) {
  for (std::size_t k = 0; k + 1 < line.size(); ++k) {
    const int pieces = std::max(1, static_cast<int>(std::ceil(distance(line[k], line[k + 1]) / width)));
    for (int piece = 0; piece < pieces; ++piece) {
      const double share = (piece + 0.5) / pieces;
      obstacles.push_back({{line[k].x + share * (line[k + 1].x - line[k].x) - width / 2,
                            line[k].y + share * (line[k + 1].y - line[k].y) - width / 2, width, width},
                           weight});
    }
  }
}

std::optional<Rectangle> free_room(const std::vector<Point>& middles, const Size& size,
                                   const std::vector<Rectangle>& taken) {
  for (const Point& middle : middles) {
    const Rectangle room{middle.x - size.width / 2, middle.y - size.height / 2, size.width, size.height};
    const Rectangle wide{room.x - room_between, room.y - room_between, room.width + 2 * room_between,
                         room.height + 2 * room_between};
    if (std::none_of(taken.begin(), taken.end(),
                     [&](const Rectangle& each) { return overlap(wide, each) > 0; }))
      return room;
  }
  return std::nullopt;
}

std::vector<PlacedLabel> place_labels(const std::vector<Label>& labels, std::vector<Obstacle> obstacles,
                                      const Rectangle& frame) {
  constexpr double of_the_last = 0.3; // the last candidate is as much worse than the first
  std::vector<PlacedLabel> placed;
  for (const Label& label : labels) {
    const Rectangle* best = nullptr;
    double least = 0;
    for (std::size_t k = 0; k < label.candidates.size(); ++k) {
      const Rectangle& place = label.candidates[k];
      const double rank = of_the_last * static_cast<double>(k) / static_cast<double>(label.candidates.size());
      if (best != nullptr && rank >= least) break;
      const bool taken = std::any_of(placed.begin(), placed.end(), [&](const PlacedLabel& other) {
        return overlap(with_room(other.at), place) > 0;
      });
      if (taken || !holds(frame, place) || covers_words(place, obstacles)) continue;
      const double cost = rank + cost_of(label, place, obstacles, placed);
      if (best != nullptr && cost >= least) continue;
      best = &place;
      least = cost;
    }
    if (best == nullptr) continue;
    placed.push_back({label.text, label.style, *best, leader_of(label, *best)});
    add_obstacles(placed.back().leader, 3, weight_of_marks, obstacles);
  }
  return placed;
}

void draw_labels(cairo_t* context, const std::vector<PlacedLabel>& labels) {
  for (const PlacedLabel& label : labels) {
    if (label.leader.empty()) continue;
    for (const bool halo : {true, false}) {
      cairo_move_to(context, label.leader[0].x, label.leader[0].y);
      cairo_line_to(context, label.leader[1].x, label.leader[1].y);
      halo ? cairo_set_source_rgb(context, 1, 1, 1) : set_color(context, label.style.color);
      cairo_set_line_width(context, halo ? 2.4 : 0.8);
      cairo_stroke(context);
    }
  }
  for (const PlacedLabel& label : labels) draw_text(context, label.at.x, label.at.y, label.text, label.style);
}

} // namespace lowspot::report
