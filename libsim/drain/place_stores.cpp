#include <lowspot/drain/place_stores.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/base/error.hpp>

namespace lowspot::drain {

namespace {

// Plan area of a pot, as a share of the section of the widest pipe that meets there.
constexpr double pot_share = 0.25;
constexpr double least_pot = 1e-4; // m2
// Storage above the top of a chamber, as a share of its area.
constexpr double pressure_share = 0.02;

void sink_chamber(const Chamber& chamber, PlaceStore& place) {
  place.chamber = chamber;
  if (chamber.area <= 0) return;
  place.bottom = std::min(place.bottom, chamber.bottom);
  place.area_above = std::max(place.area, pressure_share * chamber.area);
  place.area = chamber.area;
  place.top = std::max(chamber.top, place.bottom);
}

// The level that the water at an outlet must pass before it flows out, the head that lifts a lid not counted
// [m].
double control_level(const Outlet& outlet, double pipe_invert) {
  if (outlet.kind == OutletKind::submerged)
    return outlet.levels.empty() ? outlet.level : outlet.levels.front();
  const double invert = std::isfinite(outlet.invert) ? outlet.invert : pipe_invert;
  if (outlet.kind == OutletKind::pop_up) return std::max(invert, outlet.level);
  return -std::numeric_limits<double>::infinity();
}

struct Store {
  int unknown = 0;
  double invert = 0;
};

// The store that water for a run, fitting or outlet goes to, by the name and the place it comes from.
Store store_named(const Layout& layout, const Network& network, const std::string& name, const Point& from) {
  const std::size_t fittings = layout.fittings.size();
  for (std::size_t f = 0; f < fittings; ++f)
    if (layout.fittings[f].name == name) return {network.places[f].unknown, network.places[f].bottom};
  for (std::size_t o = 0; o < layout.outlets.size(); ++o)
    if (layout.outlets[o].name == name)
      return {network.places[fittings + o].unknown, network.places[fittings + o].bottom};
  int best = -1;
  for (std::size_t i = 0; i < network.stations.size(); ++i) {
    const Station& station = network.stations[i];
    if (layout.runs[station.run].name != name) continue;
    if (best < 0 || distance(station.at, from) < distance(network.stations[best].at, from))
      best = static_cast<int>(i);
  }
  if (best < 0)
    throw InputError({}, "\"" + name + "\", which is no run, fitting or outlet", "a name of this drain",
                     "Name what takes the water.");
  const int pipe = network.pipe_of[best];
  if (pipe >= 0) return {network.pipes[pipe].unknown, network.pipes[pipe].invert};
  const StoneStore& stone = network.stones[network.stone_of[best]];
  return {stone.unknown, stone.bottom};
}

void add_link(const Layout& layout, Network& network, int f) {
  const Fitting& fitting = layout.fittings[f];
  if (fitting.link.to.empty()) return;
  const Store target = store_named(layout, network, fitting.link.to, fitting.at);
  const PlaceStore& box = network.places[f];
  LinkTie tie;
  tie.a = box.unknown;
  tie.b = target.unknown;
  tie.place = f;
  // Just full and free it has half its height of head, from its middle.
  tie.openings = {std::max({fitting.link.invert, target.invert, box.bottom}), fitting.link.height,
                  fitting.link.capacity / std::sqrt(0.5 * fitting.link.height)};
  network.links.push_back(tie);
}

// A rim below the bottom of what it opens into lets out what stands above that bottom.
Mouth above(const PlaceStore& place, Mouth mouth) {
  mouth.level = std::max(mouth.level, place.bottom);
  return mouth;
}

} // namespace

StoneReach stone_between(const Run& run_a, const Station& a, const Run& run_b, const Station& b) {
  StoneReach reach;
  reach.bottom_a = a.trench_bottom;
  reach.bottom_b = b.trench_bottom;
  reach.top_a = a.cap_bottom;
  reach.top_b = b.cap_bottom;
  reach.width = std::min(a.trench_width, b.trench_width);
  reach.distance = 0.5 * (a.length + b.length);
  const Run& tighter = run_a.stone.conductivity <= run_b.stone.conductivity ? run_a : run_b;
  reach.conductivity = tighter.stone.conductivity;
  reach.forchheimer_b = tighter.stone.forchheimer_b;
  return reach;
}

void add_places(const Layout& layout, Network& network) {
  network.places.resize(network.connections.places);
  for (PlaceStore& place : network.places) {
    place.unknown = network.unknowns++;
    place.bottom = std::numeric_limits<double>::infinity();
    place.area = least_pot;
  }
  for (std::size_t r = 0; r < layout.runs.size(); ++r) {
    const Run& run = layout.runs[r];
    const auto meet = [&](int index, double invert) {
      if (index < 0) return;
      PlaceStore& place = network.places[index];
      place.bottom = std::min(place.bottom, invert);
      place.area = std::max(place.area, pot_share * network.sections[r].full_area);
    };
    meet(network.connections.runs[r].head, head_invert(run));
    meet(network.connections.runs[r].foot, foot_invert(run));
  }
  const std::size_t fittings = layout.fittings.size();
  for (std::size_t f = 0; f < fittings; ++f) sink_chamber(layout.fittings[f].chamber, network.places[f]);
  for (std::size_t o = 0; o < layout.outlets.size(); ++o)
    sink_chamber(layout.outlets[o].chamber, network.places[fittings + o]);
}

void add_outlet_end(const Layout& layout, Network& network, int r, int outlet_index) {
  const Run& run = layout.runs[r];
  const Outlet& outlet = layout.outlets[outlet_index];
  const int i = network.first_station[r + 1] - 1;
  const Station& station = network.stations[i];
  const int place = network.connections.runs[r].foot;
  const double level = control_level(outlet, foot_invert(run));
  if (outlet.chamber.area > 0) {
    // Pipe ends in the chamber's own grade line; stone alone gives its water to it.
    if (run.pipe.diameter > 0) return;
    StoneReach reach = stone_between(run, station, run, station);
    reach.bottom_b = foot_invert(run) - run.bedding;
    reach.distance = 0.5 * station.length;
    network.stone_ties.push_back(
        {network.stones[network.stone_of[i]].unknown, network.places[place].unknown, reach});
    return;
  }
  network.places[place].level = level;
  network.places[place].lift = outlet.kind == OutletKind::pop_up ? outlet.opening_head : 0;
  if (run.pipe.diameter > 0) {
    FreeEnd end;
    end.unknown = network.places[place].unknown;
    end.section = r;
    end.outlet = outlet_index;
    end.place = place;
    end.invert = foot_invert(run);
    end.bed_slope = (station.invert - foot_invert(run)) / (0.5 * station.length);
    network.free_ends.push_back(end);
    return;
  }
  StoneEnd end;
  end.unknown = network.stones[network.stone_of[i]].unknown;
  end.outlet = outlet_index;
  end.place = place;
  end.reach = stone_between(run, station, run, station);
  end.reach.bottom_b = foot_invert(run) - run.bedding;
  end.reach.distance = 0.5 * station.length;
  network.stone_ends.push_back(end);
}

void add_weeps(const Layout& layout, Network& network) {
  for (int o = 0; o < static_cast<int>(layout.outlets.size()); ++o) {
    const Outlet& outlet = layout.outlets[o];
    if (outlet.kind != OutletKind::pop_up) continue;
    FreeEnd* lowest = nullptr;
    for (FreeEnd& end : network.free_ends)
      if (end.outlet == o && (!lowest || end.invert < lowest->invert)) lowest = &end;
    if (lowest) {
      lowest->weep_area = outlet.weep_area;
      continue;
    }
    StoneEnd* stone = nullptr;
    for (StoneEnd& end : network.stone_ends)
      if (end.outlet == o && (!stone || end.reach.bottom_b < stone->reach.bottom_b)) stone = &end;
    if (stone) stone->weep_area = outlet.weep_area;
  }
}

void add_mouths_and_links(const Layout& layout, Network& network) {
  const int fittings = static_cast<int>(layout.fittings.size());
  for (int f = 0; f < fittings; ++f) {
    if (layout.fittings[f].mouth)
      network.mouths.push_back(
          {network.places[f].unknown, f, above(network.places[f], *layout.fittings[f].mouth)});
    add_link(layout, network, f);
  }
  for (int o = 0; o < static_cast<int>(layout.outlets.size()); ++o) {
    const Outlet& outlet = layout.outlets[o];
    const PlaceStore& place = network.places[fittings + o];
    if (outlet.mouth) network.mouths.push_back({place.unknown, fittings + o, above(place, *outlet.mouth)});
    if (outlet.kind == OutletKind::pump) {
      Pump pump = outlet.pump;
      const double air = std::min(place.bottom + pump_film, 0.5 * (place.bottom + pump.on));
      pump.off = std::max(pump.off, air);
      network.pumps.push_back({place.unknown, o, place.bottom, place.area, pump});
    }
    if (outlet.kind != OutletKind::submerged || outlet.levels.size() < 2) continue;
    network.held_levels.push_back({fittings + o, outlet.times, outlet.levels});
    for (const FreeEnd& end : network.free_ends)
      if (end.outlet == o && end.place != fittings + o)
        network.held_levels.push_back({end.place, outlet.times, outlet.levels});
  }
  for (const Tap& tap : layout.taps) {
    const Store target = store_named(layout, network, tap.to, tap.at);
    // Where the gutter ends below the pipe it leads to, no water is lifted out of a pipe that is empty.
    Mouth mouth = tap.mouth;
    mouth.level = std::max(mouth.level, target.invert);
    network.tap_unknown.push_back(target.unknown);
    network.tap_mouth.push_back(static_cast<int>(network.mouths.size()));
    network.mouths.push_back({target.unknown, -1, std::move(mouth)});
  }
}

} // namespace lowspot::drain
