#include <lowspot/drain/network.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/drain/cap.hpp>
#include <lowspot/drain/fitting_loss.hpp>
#include <lowspot/drain/place_stores.hpp>

namespace lowspot::drain {

namespace {

// Storage above the top of the stone, as a share of the trench's plan area: the cap is wet by then.
constexpr double pressure_storage = 0.02;
// However narrow the trench, some stone is left beside the pipe: this share of the plan is its bore at most.
constexpr double most_bore = 0.9;

void add_stores(const Layout& layout, Network& network) {
  for (std::size_t i = 0; i < network.stations.size(); ++i) {
    const Station& station = network.stations[i];
    const Run& run = layout.runs[station.run];
    network.stone_of.push_back(run.has_trench ? static_cast<int>(network.stones.size()) : -1);
    network.pipe_of.push_back(run.pipe.diameter > 0 ? static_cast<int>(network.pipes.size()) : -1);
    if (run.has_trench) {
      StoneStore stone;
      const double plan = plan_of(station);
      stone.unknown = network.unknowns++;
      stone.station = static_cast<int>(i);
      stone.bottom = station.trench_bottom;
      stone.top = station.cap_bottom;
      stone.area = run.stone.porosity * plan;
      stone.area_above = pressure_storage * plan;
      stone.loss = run.bottom_conductivity * plan;
      stone.cap_conductance = cap_conductance(run, station);
      stone.cap_depth = run.cap.depth;
      if (run.pipe.diameter > 0) {
        stone.bore = run.pipe.diameter;
        stone.bore_bottom = station.invert;
        stone.bore_pores =
            run.stone.porosity * std::min(plan / station.trench_width, most_bore * plan / run.pipe.diameter);
      }
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

void add_stone_tie(const Layout& layout, Network& network, int i, int j) {
  const Station& a = network.stations[i];
  const Station& b = network.stations[j];
  network.stone_ties.push_back({network.stones[network.stone_of[i]].unknown,
                                network.stones[network.stone_of[j]].unknown,
                                stone_between(layout.runs[a.run], a, layout.runs[b.run], b)});
}

// Pipes that end side by side in the open or under the water outside have nothing but that in common: each
// but the lowest gets a place of its own. Under a lid, or in a vessel, they share one level.
void part_open_ends(const Layout& layout, Network& network) {
  const int fittings = static_cast<int>(layout.fittings.size());
  const int outlets = static_cast<int>(layout.outlets.size());
  std::vector<int> lowest(outlets, -1);
  for (std::size_t r = 0; r < layout.runs.size(); ++r) {
    const int outlet = network.connections.runs[r].foot - fittings;
    network.outlet_of.push_back(outlet >= 0 && outlet < outlets ? outlet : -1);
    if (network.outlet_of[r] < 0 || layout.runs[r].pipe.diameter <= 0) continue;
    int& least = lowest[outlet];
    if (least < 0 || foot_invert(layout.runs[r]) < foot_invert(layout.runs[least]))
      least = static_cast<int>(r);
  }
  for (std::size_t r = 0; r < layout.runs.size(); ++r) {
    if (network.outlet_of[r] < 0 || layout.runs[r].pipe.diameter <= 0) continue;
    const Outlet& outlet = layout.outlets[network.outlet_of[r]];
    if (outlet.chamber.area > 0 || outlet.kind == OutletKind::pop_up) continue;
    if (lowest[network.outlet_of[r]] != static_cast<int>(r))
      network.connections.runs[r].foot = network.connections.places++;
  }
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
    const int outlet = network.outlet_of[r];
    meet(network.connections.runs[r].head, network.first_station[r]);
    meet(outlet >= 0 ? static_cast<int>(layout.fittings.size()) + outlet : network.connections.runs[r].foot,
         network.first_station[r + 1] - 1);
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
    const double from = pipe_a >= 0 ? network.stations[reach.station].distance : 0;
    reach.loss = bend_losses(run, from, from + reach.distance);
    if (pipe_a < 0) reach.loss += entry_loss(layout, network.connections, r);
    if (pipe_b < 0) reach.loss += arrival_loss(layout, network.connections, r);
    network.pipe_reaches.push_back(reach);
  };
  const int first = network.pipe_of[network.first_station[r]];
  const int last = network.pipe_of[network.first_station[r + 1] - 1];
  const RunEnds ends = network.connections.runs[r];
  if (ends.head >= 0) reach_between(-1, ends.head, first, -1);
  for (int p = first; p < last; ++p) reach_between(p, -1, p + 1, -1);
  if (ends.foot >= 0) reach_between(last, -1, -1, ends.foot);
}

void find_feet(Network& network) {
  network.feet.resize(network.outlet_of.size());
  for (std::size_t r = 0; r < network.feet.size(); ++r) {
    RunFoot& foot = network.feet[r];
    const int last = network.first_station[r + 1] - 1;
    if (network.pipe_of[last] >= 0) {
      for (std::size_t k = 0; k < network.pipe_reaches.size(); ++k)
        if (network.pipe_reaches[k].station == last) foot.reach = static_cast<int>(k);
      continue;
    }
    const int stone = network.stones[network.stone_of[last]].unknown;
    for (std::size_t k = 0; k < network.stone_ends.size(); ++k)
      if (network.stone_ends[k].unknown == stone) foot.end = static_cast<int>(k);
    const int at = network.connections.runs[r].foot;
    const int place = at >= 0 ? network.places[at].unknown : no_unknown;
    for (std::size_t k = 0; k < network.stone_ties.size(); ++k)
      if (network.stone_ties[k].a == stone && network.stone_ties[k].b == place)
        foot.tie = static_cast<int>(k);
  }
}

} // namespace

Network make_network(const Layout& layout, const std::function<double(Point)>& ground_at) {
  Network network;
  network.stations = make_stations(layout, ground_at);
  network.connections = connect(layout);
  part_open_ends(layout, network);
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
    if (network.outlet_of[r] >= 0) add_outlet_end(layout, network, r, network.outlet_of[r]);
  }
  add_stone_across_places(layout, network);
  add_weeps(layout, network);
  add_mouths_and_links(layout, network);
  find_feet(network);
  return network;
}

} // namespace lowspot::drain
