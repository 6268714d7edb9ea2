#include <lowspot/drain/drain.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <stdexcept>

#include <lowspot/base/error.hpp>
#include <lowspot/drain/cap.hpp>
#include <lowspot/drain/cap_capacity.hpp>
#include <lowspot/drain/implicit_step.hpp>
#include <lowspot/drain/mouth_capacity.hpp>
#include <lowspot/drain/run_losses.hpp>
#include <lowspot/drain/stone_store.hpp>

namespace lowspot::drain {

namespace {

// The soil may take no more than this share of a station's water, so that round-off never asks for more than
// all.
constexpr double soil_share = 0.99;

Layout sound(const Layout& layout) {
  const std::vector<std::string> faults = problems(layout);
  if (!faults.empty())
    throw InputError({}, faults.front(), "a drain that falls all the way to an outlet",
                     "Change the run, fitting or outlet that is named.");
  return layout;
}

} // namespace

struct Drain::State {
  State(const Layout& layout_, const std::function<double(Point)>& ground_at)
      : layout(sound(layout_)), network(make_network(layout, ground_at)), solver(dry_state(network)),
        work(network), ahead(network) {
    const std::size_t stations = network.stations.size();
    for (auto* list : {&stone_level, &pipe_level, &pipe_flow, &through_cap, &from_soil, &through_fabric,
                       &ponded, &soil_wall, &cap_offered, &cap_found})
      list->assign(stations, 0.0);
    gone = no_departures(network, layout.outlets.size());
    for (auto* list : {&on_mouths, &through_mouth}) list->assign(network.mouths.size(), 0.0);
    gives.assign(network.unknowns, 0.0);
    highest.assign(layout.runs.size(), -std::numeric_limits<double>::infinity());
    publish();
  }

  void take_loads(double dt, const Inflows& inflows, std::span<const double> on_ground,
                  std::span<const double> over_mouths, std::span<const double> at_outlets);
  void publish();
  void count_given(const Flows& flows);
  int store_for(int station, bool into_pipe) const;

  Layout layout;
  Network network;
  SolverState solver;
  Workspace work, ahead; // of the steps; of trials
  Departures gone;
  std::vector<double> stone_level, pipe_level, pipe_flow;
  // loads of the last step
  std::vector<double> through_cap, from_soil, through_fabric, ponded, on_mouths, soil_wall, through_mouth;
  std::vector<double> cap_found;             // m3/s, see Inflows
  std::vector<double> cap_offered;           // m3/s, by the last cap_capacity()
  std::vector<double> cap_finds, cap_ponded; // m3/s, m: of that call; empty once the step is taken
  std::vector<double> gives;   // net flow out of each unknown to the rest of the network and beyond [m3/s]
  std::vector<double> highest; // level so far, per run [m]
};

// The unknown that takes water: the one meant, or the other where a station has only one.
int Drain::State::store_for(int station, bool into_pipe) const {
  const int stone = network.stone_of[station], pipe = network.pipe_of[station];
  if ((into_pipe && pipe >= 0) || stone < 0) return network.pipes[pipe].unknown;
  return network.stones[stone].unknown;
}

void Drain::State::take_loads(double dt, const Inflows& inflows, std::span<const double> on_ground,
                              std::span<const double> over_mouths, std::span<const double> at_outlets) {
  const std::size_t stations = network.stations.size();
  for (std::size_t given :
       {inflows.through_cap.size(), inflows.from_soil.size(), inflows.into_pipe.size(),
        inflows.soil_wall.size(), inflows.soil_gives.size(), inflows.cap_found.size(), on_ground.size()})
    if (given != stations && given != 0)
      throw std::invalid_argument("Drain::advance needs one entry a station in each list");
  if ((!inflows.through_mouth.empty() && inflows.through_mouth.size() != network.mouths.size()) ||
      (!over_mouths.empty() && over_mouths.size() != network.mouths.size()) ||
      (!inflows.into_tap.empty() && inflows.into_tap.size() != layout.taps.size()) ||
      (!at_outlets.empty() && at_outlets.size() != layout.outlets.size()))
    throw std::invalid_argument("Drain::advance needs one entry a mouth, tap or outlet");
  for (const std::span<const double>& list :
       {inflows.through_cap, inflows.from_soil, inflows.into_pipe, inflows.through_mouth, inflows.into_tap,
        inflows.soil_wall, inflows.soil_gives, inflows.cap_found, on_ground, over_mouths})
    if (!std::all_of(list.begin(), list.end(), [](double value) { return std::isfinite(value); }))
      throw std::invalid_argument("Drain::advance needs inflows and ponds that are numbers");
  for (const double level : at_outlets)
    if (std::isnan(level) || level == std::numeric_limits<double>::infinity())
      throw std::invalid_argument("Drain::advance needs levels at outlets that are numbers or none");
  const auto take = [](std::span<const double> from, std::vector<double>& to) {
    if (from.empty())
      std::fill(to.begin(), to.end(), 0.0);
    else
      std::copy(from.begin(), from.end(), to.begin());
  };
  for (auto* list : {&cap_finds, &cap_ponded}) list->clear();
  take(inflows.through_cap, through_cap);
  take(inflows.cap_found.empty() ? inflows.through_cap : inflows.cap_found, cap_found);
  take(inflows.from_soil, from_soil);
  take(inflows.soil_gives.empty() ? inflows.from_soil : inflows.soil_gives, through_fabric);
  take(inflows.soil_wall, soil_wall);
  take(on_ground, ponded);
  take(over_mouths, on_mouths);
  take(inflows.through_mouth, through_mouth);
  std::fill(solver.outside.begin(), solver.outside.end(), -std::numeric_limits<double>::infinity());
  std::copy(at_outlets.begin(), at_outlets.end(),
            solver.outside.begin() + static_cast<std::ptrdiff_t>(layout.fittings.size()));
  if (!at_outlets.empty())
    for (const FreeEnd& end : network.free_ends) solver.outside[end.place] = at_outlets[end.outlet];
  std::fill(work.source.begin(), work.source.end(), 0.0);
  for (std::size_t k = 0; k < inflows.through_mouth.size(); ++k)
    work.source[network.mouths[k].unknown] += inflows.through_mouth[k];
  for (std::size_t k = 0; k < inflows.into_tap.size(); ++k)
    work.source[network.tap_unknown[k]] += inflows.into_tap[k];
  for (std::size_t i = 0; i < stations; ++i) {
    const int station = static_cast<int>(i);
    const int stone = store_for(station, false);
    work.source[stone] += through_cap[i] + std::max(0.0, from_soil[i]);
    if (!inflows.into_pipe.empty() && inflows.into_pipe[i] > 0) {
      work.source[store_for(station, true)] += inflows.into_pipe[i];
      if (network.pipe_of[i] >= 0) solver.open_pipe[network.pipe_of[i]] = 1;
    }
    if (from_soil[i] >= 0) continue;
    // What the soil takes was promised from what was stored: it goes at once, before anything else can drain
    // it.
    const double taken = -from_soil[i] * dt;
    if (taken > solver.book[stone] * (1 + 1e-9) + 1e-12)
      throw NumericsError("the soil takes more water from the drain's station " + std::to_string(i) +
                          " than it holds");
    solver.book[stone] -= taken;
    if (network.stone_of[i] >= 0)
      solver.level[stone] = stone_level_for(network.stones[network.stone_of[i]], solver.book[stone]);
  }
}

void Drain::State::publish() {
  const Flows& flows = work.balance.flows();
  for (std::size_t i = 0; i < network.stations.size(); ++i) {
    const Station& station = network.stations[i];
    const int stone = network.stone_of[i], pipe = network.pipe_of[i];
    stone_level[i] = stone >= 0 ? std::max(solver.level[network.stones[stone].unknown], station.trench_bottom)
                                : station.trench_bottom;
    pipe_level[i] =
        pipe >= 0 ? std::max(solver.level[network.pipes[pipe].unknown], station.invert) : station.invert;
    pipe_flow[i] = 0;
  }
  for (std::size_t k = 0; k < network.pipe_reaches.size(); ++k)
    if (network.pipe_reaches[k].station >= 0)
      pipe_flow[network.pipe_reaches[k].station] = flows.pipe_reaches[k];
  count_given(flows);
  for (std::size_t i = 0; i < network.stations.size(); ++i) {
    double& most = highest[network.stations[i].run];
    most = std::max({most, stone_level[i], pipe_level[i]});
  }
}

// What each place passes on.
void Drain::State::count_given(const Flows& flows) {
  if (network.mouths.empty()) return;
  std::fill(gives.begin(), gives.end(), 0.0);
  for (std::size_t k = 0; k < network.pipe_reaches.size(); ++k) {
    gives[network.pipe_reaches[k].a] += flows.pipe_reaches[k];
    gives[network.pipe_reaches[k].b] -= flows.pipe_reaches[k];
  }
  for (std::size_t k = 0; k < network.links.size(); ++k) {
    gives[network.links[k].a] += flows.links[k];
    gives[network.links[k].b] -= flows.links[k];
  }
  for (std::size_t k = 0; k < network.stone_ties.size(); ++k) {
    gives[network.stone_ties[k].a] += flows.stone_ties[k];
    gives[network.stone_ties[k].b] -= flows.stone_ties[k];
  }
  for (std::size_t k = 0; k < network.places.size(); ++k) gives[network.places[k].unknown] += flows.soaks[k];
  for (std::size_t k = 0; k < network.pumps.size(); ++k) gives[network.pumps[k].unknown] += flows.pumps[k];
}

Drain::Drain(const Layout& layout, const std::function<double(Point)>& ground_at)
    : state_(std::make_unique<State>(layout, ground_at)) {}
Drain::~Drain() = default;
Drain::Drain(Drain&&) noexcept = default;
Drain& Drain::operator=(Drain&&) noexcept = default;

const Layout& Drain::layout() const {
  return state_->layout;
}
const std::vector<Station>& Drain::stations() const {
  return state_->network.stations;
}

void Drain::cap_capacity(std::span<const double> ponded, double dt, std::span<double> capacity) const {
  State& s = *state_;
  s.cap_finds.resize(s.cap_offered.size());
  s.cap_ponded.assign(ponded.begin(), ponded.end());
  find_cap_capacity(s.network, s.solver,
                    {s.through_cap,
                     s.cap_offered,
                     s.cap_found,
                     {s.work.source, ponded, s.on_mouths, s.layout.outlets.size()}},
                    dt, s.ahead, capacity, s.cap_finds);
  std::copy(capacity.begin(), capacity.end(), s.cap_offered.begin());
}

void Drain::available_for_soil(double /*dt*/, std::span<double> available) const {
  const State& s = *state_;
  for (std::size_t i = 0; i < available.size(); ++i) {
    const int k = s.network.stone_of[i];
    available[i] = k >= 0 ? soil_share * std::max(0.0, s.solver.book[s.network.stones[k].unknown]) : 0;
  }
}

int Drain::mouths() const {
  return static_cast<int>(state_->network.mouths.size());
}
const Mouth& Drain::mouth(int mouth) const {
  return state_->network.mouths[mouth].mouth;
}
int Drain::mouth_of_tap(int tap) const {
  return state_->network.tap_mouth[tap];
}

void Drain::mouth_capacity(std::span<const MouthWater> water, double dt, std::span<double> capacity) const {
  State& s = *state_;
  const std::vector<double>& on_ground = s.cap_ponded.empty() ? s.ponded : s.cap_ponded;
  const AroundDrain around{s.work.source, on_ground, s.on_mouths, s.layout.outlets.size()};
  const MouthOutlook outlook{water, s.through_mouth, s.gives, s.through_cap, s.cap_finds, around};
  find_mouth_capacity(s.network, s.solver, outlook, dt, s.ahead, capacity);
}

void Drain::lay_open(std::span<const double> share, std::span<const double> ground) {
  std::vector<Station>& stations = state_->network.stations;
  if (share.size() != stations.size() || (!ground.empty() && ground.size() != stations.size()))
    throw std::invalid_argument("Drain::lay_open needs one entry a station");
  for (std::size_t i = 0; i < stations.size(); ++i) {
    stations[i].open = std::clamp(share[i], 0.0, 1.0);
    if (!ground.empty() && std::isfinite(ground[i])) stations[i].ground = ground[i];
  }
}

double Drain::outlet_rim(int outlet) const {
  const PlaceStore& place = state_->network.places[state_->layout.fittings.size() + outlet];
  return std::max(place.bottom, place.level);
}

Outcome Drain::advance(double dt, const Inflows& inflows, std::span<const double> ponded,
                       std::span<const double> on_mouths, std::span<const double> at_outlets) {
  State& s = *state_;
  Outcome outcome;
  outcome.to_surface.assign(s.network.stations.size(), 0.0);
  outcome.outlet_volume.assign(s.layout.outlets.size(), 0.0);
  outcome.from_mouth.assign(s.network.mouths.size(), 0.0);
  if (!std::isfinite(dt)) throw std::invalid_argument("Drain::advance needs a time that is a number");
  if (dt <= 0) return outcome;
  s.take_loads(dt, inflows, ponded, on_mouths, at_outlets);
  for (auto* list : {&s.gone.rise, &s.gone.overflow, &s.gone.outlet, &s.gone.mouth})
    std::fill(list->begin(), list->end(), 0.0);
  s.gone.to_depth = 0;
  advance_network(s.network, s.work.source, s.ponded, s.on_mouths, dt, s.solver, s.work, s.gone);
  for (std::size_t k = 0; k < s.network.stones.size(); ++k)
    outcome.to_surface[s.network.stones[k].station] += s.gone.rise[k];
  for (std::size_t k = 0; k < s.network.pipes.size(); ++k)
    outcome.to_surface[s.network.pipes[k].station] += s.gone.overflow[k];
  outcome.outlet_volume = s.gone.outlet;
  outcome.from_mouth = s.gone.mouth;
  outcome.to_depth = s.gone.to_depth;
  s.publish();
  return outcome;
}

std::span<const double> Drain::stone_level() const {
  return state_->stone_level;
}
std::span<const double> Drain::pipe_level() const {
  return state_->pipe_level;
}
std::span<const double> Drain::pipe_flow() const {
  return state_->pipe_flow;
}

double Drain::stored() const {
  const std::vector<double>& book = state_->solver.book;
  return std::accumulate(book.begin(), book.end(), 0.0);
}

RunState Drain::run_state(int run) const {
  const State& s = *state_;
  const int first = s.network.first_station[run], last = s.network.first_station[run + 1] - 1;
  const Run& figures = s.layout.runs[run];
  RunState result;
  result.highest_level = s.highest[run];
  for (int i = first; i <= last; ++i) {
    const int stone = s.network.stone_of[i], pipe = s.network.pipe_of[i];
    if (stone >= 0) result.stored += s.solver.book[s.network.stones[stone].unknown];
    if (pipe >= 0) {
      result.stored += s.solver.book[s.network.pipes[pipe].unknown];
      if (s.pipe_level[i] >= s.network.stations[i].invert + figures.pipe.diameter) result.surcharged = true;
    }
  }
  result.foot_flow = flow_at_foot(s.network.feet[run], s.work.balance.flows());
  result.volume_out = s.gone.foot[run];
  if (figures.pipe.diameter > 0) {
    // At a drop into a fitting the pipe's own last depth is what its foot shows.
    const double beyond = s.solver.level[s.network.places[s.network.connections.runs[run].foot].unknown];
    const double depth = beyond > foot_invert(figures) ? beyond - foot_invert(figures)
                                                       : s.pipe_level[last] - s.network.stations[last].invert;
    result.foot_depth = std::clamp(depth, 0.0, figures.pipe.diameter);
  }
  result.losses = losses_of(s.layout, s.network, s.solver.level, s.work.balance.flows(),
                            {s.through_cap, s.through_fabric, s.soil_wall, s.ponded}, run);
  result.limit = limiting_member(result.losses);
  return result;
}

double Drain::fitting_level(int fitting) const {
  const PlaceStore& place = state_->network.places[fitting];
  return std::max(place.bottom, state_->solver.level[place.unknown]);
}

double Drain::fitting_flow(int fitting) const {
  const State& s = *state_;
  const PlaceStore& place = s.network.places[fitting];
  return place.chamber.area > 0 && !s.network.mouths.empty() ? s.gives[place.unknown] : 0;
}

double Drain::fitting_volume(int fitting) const {
  return state_->network.places[fitting].chamber.area > 0 ? state_->gone.passed[fitting] : 0;
}

double Drain::outlet_level(int outlet) const {
  const PlaceStore& place = state_->network.places[state_->layout.fittings.size() + outlet];
  return std::max(place.bottom, state_->solver.level[place.unknown]);
}

double Drain::outlet_stored(int outlet) const {
  const PlaceStore& place = state_->network.places[state_->layout.fittings.size() + outlet];
  return place.chamber.area > 0 ? state_->solver.book[place.unknown] : 0;
}

double Drain::full_flow_capacity(int run) const {
  const Run& figures = state_->layout.runs[run];
  if (figures.pipe.diameter <= 0) return 0;
  constexpr double infinite = std::numeric_limits<double>::infinity();
  double least = infinite, least_from_head = infinite, along = 0;
  for (std::size_t k = 1; k < figures.path.size(); ++k) {
    const double piece = distance(figures.path[k - 1], figures.path[k]);
    if (piece <= 0) continue;
    along += piece;
    least = std::min(least, (figures.inverts[k - 1] - figures.inverts[k]) / piece);
    least_from_head = std::min(least_from_head, (figures.inverts[0] - figures.inverts[k]) / along);
  }
  return full_flow(figures.pipe.diameter, figures.pipe.manning_n, least > 0 ? least : least_from_head);
}

double Drain::outlet_flow(int outlet) const {
  const State& s = *state_;
  const Flows& flows = s.work.balance.flows();
  double q = 0;
  for (std::size_t k = 0; k < s.network.free_ends.size(); ++k)
    if (s.network.free_ends[k].outlet == outlet) q += flows.free_ends[k];
  for (std::size_t k = 0; k < s.network.stone_ends.size(); ++k)
    if (s.network.stone_ends[k].outlet == outlet) q += flows.stone_ends[k];
  for (std::size_t k = 0; k < s.network.pumps.size(); ++k)
    if (s.network.pumps[k].outlet == outlet) q += flows.pumps[k];
  return q;
}

double Drain::wall_conductance(int station, double soil_conductivity, double soil_depth, double cell,
                               double of_fabric, double soil_top) const {
  const Station& at = state_->network.stations[station];
  return wall_conductance_of(state_->layout.runs[at.run], at, soil_conductivity, soil_depth, cell, of_fabric,
                             soil_top);
}

} // namespace lowspot::drain
