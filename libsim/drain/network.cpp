#include <lowspot/drain/network.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/drain/cap.hpp>

namespace lowspot::drain {

namespace {

// Storage above the top of the stone, as a share of the trench's plan area: the cap is wet by then.
constexpr double pressure_storage = 0.02;
// Plan area of a pot, as a share of the section of the widest pipe that meets there.
constexpr double pot_share = 0.25;

void add_stores(const Layout& layout, Network& network) {
  for (std::size_t i = 0; i < network.stations.size(); ++i) {
    const Station& station = network.stations[i];
    const Run& run = layout.runs[station.run];
    network.stone_of.push_back(run.has_trench ? static_cast<int>(network.stones.size()) : -1);
    network.pipe_of.push_back(run.pipe.diameter > 0 ? static_cast<int>(network.pipes.size()) : -1);
    if (run.has_trench) {
      StoneStore stone;
      const double plan = station.trench_width * station.length;
      stone.unknown = network.unknowns++;
      stone.station = static_cast<int>(i);
      stone.bottom = station.trench_bottom;
      stone.top = station.cap_bottom;
      stone.area = run.stone.porosity * plan;
      stone.area_above = pressure_storage * plan;
      stone.loss = run.bottom_conductivity * plan;
      stone.rise_conductance = cap_conductance(run, station);
      network.stones.push_back(stone);
    }
    if (run.pipe.diameter > 0) {
      PipeStore pipe;
      pipe.unknown = network.unknowns++;
      pipe.station = static_cast<int>(i);
      pipe.section = station.run;
      pipe.invert = station.invert;
      pipe.length = station.length;
      network.pipes.push_back(pipe);
    }
  }
}

void add_places(const Layout& layout, Network& network) {
  network.places.resize(network.connections.places);
  for (PlaceStore& place : network.places) {
    place.unknown = network.unknowns++;
    place.bottom = std::numeric_limits<double>::infinity();
  }
  for (std::size_t r = 0; r < layout.runs.size(); ++r) {
    const Run& run = layout.runs[r];
    const auto meet = [&](int index, double invert) {
      if (index < 0) return;
      PlaceStore& place = network.places[index];
      place.bottom = std::min(place.bottom, invert);
      place.area = std::max({place.area, pot_share * network.sections[r].full_area, 1e-4});
    };
    meet(network.connections.runs[r].head, head_invert(run));
    meet(network.connections.runs[r].foot, foot_invert(run));
  }
}

void add_slots(const Layout& layout, Network& network) {
  for (std::size_t i = 0; i < network.stations.size(); ++i) {
    const Station& station = network.stations[i];
    const Run& run = layout.runs[station.run];
    if (network.stone_of[i] < 0 || network.pipe_of[i] < 0 || run.pipe.slot_area <= 0) continue;
    SlotTie slot;
    slot.stone = network.stones[network.stone_of[i]].unknown;
    slot.pipe = network.pipes[network.pipe_of[i]].unknown;
    slot.station = static_cast<int>(i);
    slot.openings = {station.invert, run.pipe.diameter,
                     run.pipe.discharge_coefficient * run.pipe.slot_area * station.length *
                         std::sqrt(2 * gravity)};
    network.slots.push_back(slot);
  }
}

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

void add_stone_tie(const Layout& layout, Network& network, int i, int j) {
  const Station& a = network.stations[i];
  const Station& b = network.stations[j];
  network.stone_ties.push_back({network.stones[network.stone_of[i]].unknown,
                                network.stones[network.stone_of[j]].unknown,
                                stone_between(layout.runs[a.run], a, layout.runs[b.run], b)});
}

// The first trenched run at a place is tied to each of the others.
void add_stone_across_places(const Layout& layout, Network& network) {
  std::vector<int> first(network.places.size(), -1);
  for (std::size_t r = 0; r < layout.runs.size(); ++r) {
    if (!layout.runs[r].has_trench) continue;
    const auto meet = [&](int place, int station) {
      if (place < 0) return;
      if (first[place] < 0)
        first[place] = station;
      else
        add_stone_tie(layout, network, first[place], station);
    };
    meet(network.connections.runs[r].head, network.first_station[r]);
    meet(network.connections.runs[r].foot, network.first_station[r + 1] - 1);
  }
}

void add_pipe_reaches(const Layout& layout, Network& network, int r) {
  const Run& run = layout.runs[r];
  const auto reach_between = [&](int pipe_a, int place_a, int pipe_b, int place_b) {
    PipeReach reach;
    reach.section = r;
    reach.pipe_a = pipe_a;
    reach.pipe_b = pipe_b;
    reach.a = pipe_a >= 0 ? network.pipes[pipe_a].unknown : network.places[place_a].unknown;
    reach.b = pipe_b >= 0 ? network.pipes[pipe_b].unknown : network.places[place_b].unknown;
    reach.invert_a = pipe_a >= 0 ? network.pipes[pipe_a].invert : head_invert(run);
    reach.invert_b = pipe_b >= 0 ? network.pipes[pipe_b].invert : foot_invert(run);
    reach.distance = 0.5 * ((pipe_a >= 0 ? network.pipes[pipe_a].length : 0) +
                            (pipe_b >= 0 ? network.pipes[pipe_b].length : 0));
    reach.station = pipe_a >= 0 ? network.pipes[pipe_a].station : -1;
    network.pipe_reaches.push_back(reach);
  };
  const int first = network.pipe_of[network.first_station[r]];
  const int last = network.pipe_of[network.first_station[r + 1] - 1];
  const RunEnds ends = network.connections.runs[r];
  if (ends.head >= 0) reach_between(-1, ends.head, first, -1);
  for (int p = first; p < last; ++p) reach_between(p, -1, p + 1, -1);
  if (ends.foot >= 0) reach_between(last, -1, -1, ends.foot);
}

// The level that the water at an outlet must pass before it flows out [m].
double control_level(const Outlet& outlet, double pipe_invert) {
  if (outlet.kind == OutletKind::submerged) return outlet.level;
  const double invert = std::isfinite(outlet.invert) ? outlet.invert : pipe_invert;
  if (outlet.kind == OutletKind::pop_up) return invert + outlet.opening_head;
  return -std::numeric_limits<double>::infinity();
}

void add_outlet(const Layout& layout, Network& network, int r, int outlet_index) {
  const Run& run = layout.runs[r];
  const int i = network.first_station[r + 1] - 1;
  const Station& station = network.stations[i];
  const double level = control_level(layout.outlets[outlet_index], foot_invert(run));
  if (run.pipe.diameter > 0) {
    FreeEnd end;
    end.unknown = network.places[network.connections.runs[r].foot].unknown;
    end.section = r;
    end.outlet = outlet_index;
    end.invert = foot_invert(run);
    end.bed_slope = (station.invert - foot_invert(run)) / (0.5 * station.length);
    end.level = level;
    network.places[network.connections.runs[r].foot].level = level;
    network.free_ends.push_back(end);
    return;
  }
  StoneEnd end;
  end.unknown = network.stones[network.stone_of[i]].unknown;
  end.outlet = outlet_index;
  end.reach = stone_between(run, station, run, station);
  end.reach.bottom_b = foot_invert(run) - run.bedding;
  end.reach.distance = 0.5 * station.length;
  end.level = std::max(level, end.reach.bottom_b);
  network.stone_ends.push_back(end);
}

} // namespace

Network make_network(const Layout& layout, const std::function<double(Point)>& ground_at) {
  Network network;
  network.stations = make_stations(layout, ground_at);
  network.connections = connect(layout);
  for (const Run& run : layout.runs)
    network.sections.push_back(run.pipe.diameter > 0 ? make_section(run.pipe.diameter, run.pipe.manning_n)
                                                     : Section{});
  network.first_station.assign(layout.runs.size() + 1, 0);
  for (const Station& station : network.stations) ++network.first_station[station.run + 1];
  for (std::size_t r = 0; r < layout.runs.size(); ++r)
    network.first_station[r + 1] += network.first_station[r];
  add_stores(layout, network);
  add_places(layout, network);
  add_slots(layout, network);
  for (int r = 0; r < static_cast<int>(layout.runs.size()); ++r) {
    if (layout.runs[r].pipe.diameter > 0) add_pipe_reaches(layout, network, r);
    if (layout.runs[r].has_trench)
      for (int i = network.first_station[r]; i + 1 < network.first_station[r + 1]; ++i)
        add_stone_tie(layout, network, i, i + 1);
    const int outlet = network.connections.runs[r].foot - static_cast<int>(layout.fittings.size());
    if (outlet >= 0 && outlet < static_cast<int>(layout.outlets.size()))
      add_outlet(layout, network, r, outlet);
  }
  add_stone_across_places(layout, network);
  return network;
}

} // namespace lowspot::drain
