#include <lowspot/report/label_layout.hpp>

#include <algorithm>

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
} // namespace

std::vector<PlacedLabel> place_labels(const std::vector<Label>& labels,
                                      const std::vector<Rectangle>& obstacles, const Rectangle& frame) {
  std::vector<PlacedLabel> placed;
  for (const Label& label : labels) {
    const Rectangle* best = nullptr;
    double least = 0;
    for (const Rectangle& place : label.candidates) {
      const bool taken = std::any_of(placed.begin(), placed.end(), [&](const PlacedLabel& other) {
        return overlap(with_room(other.at), place) > 0;
      });
      if (taken || !holds(frame, place)) continue;
      double covered = 0;
      for (const Rectangle& obstacle : obstacles) covered += overlap(obstacle, place);
      if (best == nullptr || covered < least) {
        best = &place;
        least = covered;
      }
      if (least == 0) break;
    }
    if (best != nullptr) placed.push_back({label.text, label.style, *best});
  }
  return placed;
}

} // namespace lowspot::report
