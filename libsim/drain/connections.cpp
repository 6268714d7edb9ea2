#include <lowspot/drain/connections.hpp>

namespace lowspot::drain {

namespace {

constexpr double touching = 0.05; // m

int place_named(const Layout& layout, const std::string& name) {
  for (std::size_t i = 0; i < layout.fittings.size(); ++i)
    if (layout.fittings[i].name == name) return static_cast<int>(i);
  for (std::size_t i = 0; i < layout.outlets.size(); ++i)
    if (layout.outlets[i].name == name) return static_cast<int>(layout.fittings.size() + i);
  return unknown_place;
}

int place_at(const Layout& layout, const Point& point) {
  for (std::size_t i = 0; i < layout.fittings.size(); ++i)
    if (distance(layout.fittings[i].at, point) <= touching) return static_cast<int>(i);
  for (std::size_t i = 0; i < layout.outlets.size(); ++i)
    if (distance(layout.outlets[i].at, point) <= touching)
      return static_cast<int>(layout.fittings.size() + i);
  return no_place;
}

// The place where heads begin that the foot of run `i` touches; a new one when they have none yet.
int place_of_heads(const Layout& layout, std::size_t i, Connections& connections) {
  const Point foot = layout.runs[i].path.back();
  int found = no_place;
  for (std::size_t j = 0; j < layout.runs.size(); ++j) {
    const Run& other = layout.runs[j];
    if (j == i || !other.from.empty() || other.path.empty()) continue;
    if (distance(other.path.front(), foot) > touching) continue;
    int& head = connections.runs[j].head;
    if (head == no_place) head = found == no_place ? connections.places++ : found;
    found = head;
  }
  return found;
}

} // namespace

Connections connect(const Layout& layout) {
  Connections connections;
  connections.runs.resize(layout.runs.size());
  connections.places = static_cast<int>(layout.fittings.size() + layout.outlets.size());
  for (std::size_t i = 0; i < layout.runs.size(); ++i) {
    const Run& run = layout.runs[i];
    if (!run.from.empty()) connections.runs[i].head = place_named(layout, run.from);
    if (!run.to.empty())
      connections.runs[i].foot = place_named(layout, run.to);
    else if (!run.path.empty())
      connections.runs[i].foot = place_at(layout, run.path.back());
  }
  for (std::size_t i = 0; i < layout.runs.size(); ++i)
    if (layout.runs[i].to.empty() && !layout.runs[i].path.empty() && connections.runs[i].foot == no_place)
      connections.runs[i].foot = place_of_heads(layout, i, connections);
  return connections;
}

double head_invert(const Run& run) {
  return run.inverts.front();
}
double foot_invert(const Run& run) {
  return run.inverts.back();
}

} // namespace lowspot::drain
