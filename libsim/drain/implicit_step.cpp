#include <lowspot/drain/implicit_step.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

#include <lowspot/base/error.hpp>

namespace lowspot::drain {

namespace {

constexpr double close_enough = 1e-11; // m3 in any store
constexpr double good_enough = 1e-9;   // m3, once Newton has stopped gaining
constexpr int most_iterations = 20;
constexpr double shortest_step = 1e-3; // s
constexpr double never_refused = 0.5;  // s: shorter steps are kept whatever their error
constexpr double steepest_lean = 0.4;
constexpr double stone_tolerance = 1e-3;   // m, error of the level in one step
constexpr double pipe_tolerance = 0.01;    // of the diameter
constexpr double grade_tolerance = 0.01;   // m, above the crown
constexpr double chamber_tolerance = 0.01; // of its height
constexpr double pump_share = 0.2;         // of the volume between on and off that a pump moves in one step
constexpr double pump_tolerance = 1e-3;    // m past the level at which a pump starts or stops

double largest(std::span<const double> values) {
  double most = 0;
  for (double value : values) {
    if (std::isnan(value)) return value;
    most = std::max(most, std::abs(value));
  }
  return most;
}

// Steps that Newton may not take: over the crown or under the bottom of a store in one go.
double limited(double from, double to, double bottom, double crown) {
  if (from < crown && to > crown) return std::min(to, crown + 0.05 * (crown - bottom));
  if (from > crown && to < crown) return std::max(to, crown - 0.1 * (crown - bottom));
  if (to < bottom) return from > bottom + 1e-5 ? bottom + 0.1 * (from - bottom) : std::max(to, bottom - 1e-6);
  return to;
}

// In a shallow pipe the surface widens as it rises: a rise is taken as the volume it stands for, which a film
// the width of the slot would turn into a jump to the crown. Area of a shallow segment: 4/3 sqrt(D) y^1.5.
double rise_by_volume(const Section& section, const SectionState& now, double depth, double rise) {
  if (rise <= 0 || depth > 0.3 * section.diameter) return rise;
  const double area = std::max(0.0, now.area) + now.width * rise;
  const double scaled = std::cbrt(0.75 * area / std::sqrt(section.diameter));
  return std::min(rise, std::max(scaled * scaled - depth, 0.01 * section.diameter));
}

void take_newton_step(const Network& network, std::span<const double> change, const Balance& balance,
                      std::span<const double> held, std::vector<double>& level) {
  for (const StoneStore& stone : network.stones) {
    double& h = level[stone.unknown];
    h = limited(h, h - change[stone.unknown], stone.bottom, stone.top);
  }
  for (std::size_t k = 0; k < network.pipes.size(); ++k) {
    const PipeStore& pipe = network.pipes[k];
    const Section& section = network.sections[pipe.section];
    double& h = level[pipe.unknown];
    const double rise =
        rise_by_volume(section, balance.sections()[k], h - pipe.invert, -change[pipe.unknown]);
    h = limited(h, h + rise, pipe.invert, pipe.invert + section.diameter);
  }
  for (std::size_t p = 0; p < network.places.size(); ++p) {
    const PlaceStore& place = network.places[p];
    double& h = level[place.unknown];
    double to = limited(h, h - change[place.unknown], place.bottom, place.top);
    // A held outlet turns from closed to open within a hair of its level: come to rest near it first.
    const double outside = held[p];
    const double above = h - outside;
    if (above < 0 && to > outside) to = std::min(to, outside + 1e-3);
    if (above > 1e-7 && to < outside) to = outside + 0.1 * above;
    h = to;
  }
}

// Where a flow turns about, Newton may swing between its two branches for ever: a change that undoes more
// than half of the one before is halved.
void damp_swings(std::span<double> change, std::vector<double>& last) {
  for (std::size_t i = 0; i < change.size(); ++i) {
    if (change[i] * last[i] < 0 && std::abs(change[i]) > 0.5 * std::abs(last[i])) change[i] *= 0.5;
    last[i] = change[i];
  }
}

// Solves for the levels at the end of the step, in work.trial. False when Newton does not converge.
bool converge(const Network& network, const StepInput& input, Workspace& work) {
  double before = std::numeric_limits<double>::infinity();
  std::fill(work.last_change.begin(), work.last_change.end(), 0.0);
  for (int iteration = 0; iteration < most_iterations; ++iteration) {
    work.balance.evaluate(network, work.trial, input, work.residual, true);
    const double misfit = largest(work.residual);
    if (!std::isfinite(misfit)) return false;
    if (misfit <= close_enough) return true;
    if (misfit <= good_enough && misfit > 0.5 * before) return true;
    before = misfit;
    if (!work.balance.matrix().solve(work.residual)) return false;
    for (double value : work.residual)
      if (!std::isfinite(value)) return false;
    damp_swings(work.residual, work.last_change);
    take_newton_step(network, work.residual, work.balance, input.held, work.trial);
  }
  return false;
}

// Largest error of the step over its tolerance: half the change of pace over the step.
double error_of(const Network& network, const SolverState& state, const Workspace& work, double dt) {
  double worst = 0;
  const auto judge = [&](int u, double tolerance) {
    const double pace = (work.trial[u] - state.level[u]) / dt;
    worst = std::max(worst, 0.5 * dt * std::abs(pace - state.pace[u]) / tolerance);
  };
  for (const StoneStore& stone : network.stones) judge(stone.unknown, stone_tolerance);
  for (const PipeStore& pipe : network.pipes) {
    const double diameter = network.sections[pipe.section].diameter;
    const bool full = work.trial[pipe.unknown] > pipe.invert + diameter &&
                      state.level[pipe.unknown] > pipe.invert + diameter;
    judge(pipe.unknown,
          full ? std::max(grade_tolerance, pipe_tolerance * diameter) : pipe_tolerance * diameter);
  }
  for (const PlaceStore& place : network.places)
    if (place.chamber.area > 0)
      judge(place.unknown, std::max(stone_tolerance, chamber_tolerance * (place.top - place.bottom)));
  return worst;
}

void book_flows(const Network& network, const StepInput& input, const Flows& flows, SolverState& state,
                Departures& gone) {
  const double dt = input.dt;
  std::vector<double>& book = state.book;
  gone.entered.resize(input.ground.grates.size(), 0.0);
  const auto move = [&](int a, int b, double q) {
    const double volume = q * dt;
    book[a] -= volume;
    book[b] += volume;
  };
  for (int u = 0; u < network.unknowns; ++u) book[u] += input.source[u] * dt;
  for (std::size_t p = 0; p < network.places.size(); ++p) gone.passed[p] += book[network.places[p].unknown];
  for (std::size_t k = 0; k < network.slots.size(); ++k)
    move(network.slots[k].stone, network.slots[k].pipe, flows.slots[k]);
  for (std::size_t k = 0; k < network.pipe_reaches.size(); ++k)
    move(network.pipe_reaches[k].a, network.pipe_reaches[k].b, flows.pipe_reaches[k]);
  for (std::size_t k = 0; k < network.stone_ties.size(); ++k)
    move(network.stone_ties[k].a, network.stone_ties[k].b, flows.stone_ties[k]);
  const auto leave = [&](int u, double q, double& total) {
    const double volume = q * dt;
    book[u] -= volume;
    total += volume;
  };
  for (std::size_t k = 0; k < network.stones.size(); ++k) {
    leave(network.stones[k].unknown, flows.loss[k], gone.to_depth);
    leave(network.stones[k].unknown, flows.rise[k], gone.rise[k]);
    if (input.ground.cap_most.empty()) continue;
    book[network.stones[k].unknown] += flows.cap[k] * dt;
    gone.cap[k] += flows.cap[k] * dt;
  }
  for (std::size_t k = 0; k < input.ground.grates.size(); ++k) {
    book[network.mouths[input.ground.grates[k].mouth].unknown] += flows.entering[k] * dt;
    gone.entered[k] += flows.entering[k] * dt;
  }
  for (std::size_t k = 0; k < network.pipes.size(); ++k)
    leave(network.pipes[k].unknown, flows.overflow[k], gone.overflow[k]);
  for (std::size_t k = 0; k < network.free_ends.size(); ++k)
    leave(network.free_ends[k].unknown, flows.free_ends[k], gone.outlet[network.free_ends[k].outlet]);
  for (std::size_t k = 0; k < network.stone_ends.size(); ++k)
    leave(network.stone_ends[k].unknown, flows.stone_ends[k], gone.outlet[network.stone_ends[k].outlet]);
  for (std::size_t k = 0; k < network.links.size(); ++k)
    move(network.links[k].a, network.links[k].b, flows.links[k]);
  for (std::size_t k = 0; k < network.places.size(); ++k)
    leave(network.places[k].unknown, flows.soaks[k], gone.to_depth);
  for (std::size_t k = 0; k < network.mouths.size(); ++k)
    leave(network.mouths[k].unknown, flows.mouths[k], gone.mouth[k]);
  // What went out onto the ground was not passed on.
  for (std::size_t k = 0; k < network.mouths.size(); ++k)
    if (network.mouths[k].place >= 0) gone.passed[network.mouths[k].place] -= flows.mouths[k] * dt;
  for (std::size_t k = 0; k < network.pumps.size(); ++k)
    leave(network.pumps[k].unknown, flows.pumps[k], gone.outlet[network.pumps[k].outlet]);
  for (std::size_t r = 0; r < network.feet.size(); ++r)
    gone.foot[r] += flow_at_foot(network.feet[r], flows) * dt;
  for (std::size_t p = 0; p < network.places.size(); ++p) gone.passed[p] -= book[network.places[p].unknown];
}

// In fast free-surface flow the advective acceleration cancels the depth gradient (steady flow: slope of the
// depth (1 - Fr2) = bed slope - friction slope); in slow or full pipes all of it counts.
void update_weights(const Network& network, const Balance& balance, SolverState& state) {
  for (std::size_t k = 0; k < network.pipe_reaches.size(); ++k) {
    const PipeReach& reach = network.pipe_reaches[k];
    const double depth_a = std::max(0.0, state.level[reach.a] - reach.invert_a);
    const double depth = 0.5 * (depth_a + balance.depth_ahead()[k]);
    const double froude2 =
        froude_squared(network.sections[reach.section], balance.flows().pipe_reaches[k], depth);
    state.weight[k] = 0.5 * (state.weight[k] + std::clamp(1 - froude2, 0.0, 1.0));
  }
}

// The slope of the depth within each station, of its neighbours the flatter (second order where the depth is
// smooth). It follows with a lag, as the weights do, so that the system of one step keeps its narrow band.
void update_leans(const Network& network, SolverState& state) {
  const std::size_t count = network.pipes.size();
  const auto depth = [&](std::size_t k) {
    return std::max(0.0, state.level[network.pipes[k].unknown] - network.pipes[k].invert);
  };
  for (std::size_t k = 0; k < count; ++k) {
    const int run = network.pipes[k].section;
    const double here = depth(k);
    const bool has_before = k > 0 && network.pipes[k - 1].section == run;
    const bool has_after = k + 1 < count && network.pipes[k + 1].section == run;
    double target = 0;
    if (here > 0 && here < network.sections[run].diameter && (has_before || has_after)) {
      const double before = has_before ? here - depth(k - 1) : depth(k + 1) - here;
      const double after = has_after ? depth(k + 1) - here : before;
      const double change =
          before * after > 0 ? std::copysign(std::min(std::abs(before), std::abs(after)), after) : 0;
      target = std::clamp(0.5 * change / here, -steepest_lean, steepest_lean);
    }
    state.lean[k] = 0.5 * (state.lean[k] + target);
  }
}

// What comes in through the openings of each pipe, for the speed that the flow must give it. With a lag like
// the weights: what it does to the flow comes back on it.
void update_gathered(const Network& network, const Flows& flows, SolverState& state) {
  for (std::size_t k = 0; k < network.slots.size(); ++k) {
    const int pipe = network.pipe_of[network.slots[k].station];
    const double now = std::max(0.0, flows.slots[k]) / network.pipes[pipe].length;
    state.gathered[pipe] = 0.5 * (state.gathered[pipe] + now);
  }
}

// The level that holds each outlet back at the end of a step: that of its lid or of a level given in time, or
// of the water that stands there, the higher, and what lifts a lid.
void hold_levels(const Network& network, double time, std::span<const double> outside,
                 std::vector<double>& held) {
  for (std::size_t p = 0; p < held.size(); ++p) held[p] = network.places[p].level;
  for (const HeldLevel& series : network.held_levels) {
    const auto after = std::upper_bound(series.times.begin(), series.times.end(), time);
    double level = series.levels.front();
    if (after == series.times.end()) {
      level = series.levels.back();
    } else if (after != series.times.begin()) {
      const std::size_t k = after - series.times.begin();
      const double share = (time - series.times[k - 1]) / (series.times[k] - series.times[k - 1]);
      level = series.levels[k - 1] + share * (series.levels[k] - series.levels[k - 1]);
    }
    held[series.place] = level;
  }
  for (std::size_t p = 0; p < held.size(); ++p)
    held[p] = std::max(held[p], outside[p]) + network.places[p].lift;
}

// Starts and stops pumps by their levels and their power, and says how long the next step may be for none to
// overshoot by much [s].
double switch_pumps(const Network& network, SolverState& state) {
  double longest = std::numeric_limits<double>::infinity();
  for (std::size_t k = 0; k < network.pumps.size(); ++k) {
    const PumpStore& store = network.pumps[k];
    const Pump& pump = store.pump;
    const double level = state.level[store.unknown];
    char& runs = state.pump_runs[k];
    const bool powered = state.time < pump.fails_from || state.time >= pump.fails_to;
    if (level >= pump.on) runs = 1;
    if (level <= pump.off || !powered) runs = 0;
    for (const double change : {pump.fails_from, pump.fails_to})
      if (change > state.time && pump.fails_to > pump.fails_from)
        longest = std::min(longest, std::max(change - state.time, shortest_step));
    const double pace = state.pace[store.unknown];
    if (runs)
      longest = std::min(longest, std::max((level - pump.off) * store.area / pump.rate, never_refused));
    if (runs)
      longest = std::min(longest,
                         std::max(pump_share * store.area * (pump.on - pump.off) / pump.rate, never_refused));
    else if (pace > 0 && level < pump.on)
      longest = std::min(longest, std::max((pump.on - level) / pace, never_refused));
  }
  return longest;
}

// Part of the step after which a pump ought to have started or stopped, by a straight line between its
// levels; 1 where none goes past its level by more than the tolerance. Without this a sudden inflow after a
// rest, in which the step has grown long, would fill the basin well over the level that starts the pump.
double part_before_switch(const Network& network, const SolverState& state,
                          const std::vector<double>& trial) {
  double part = 1;
  for (std::size_t k = 0; k < network.pumps.size(); ++k) {
    const PumpStore& store = network.pumps[k];
    const double from = state.level[store.unknown], to = trial[store.unknown];
    const bool powered = state.time < store.pump.fails_from || state.time >= store.pump.fails_to;
    if (state.pump_runs[k] && to < store.pump.off - pump_tolerance && from > store.pump.off)
      part = std::min(part, (from - store.pump.off) / (from - to));
    if (!state.pump_runs[k] && powered && to > store.pump.on + pump_tolerance && from < store.pump.on)
      part = std::min(part, (store.pump.on - from) / (to - from));
  }
  return part;
}

[[noreturn]] void give_up(const Network& network, const SolverState& state, const Workspace& work) {
  std::size_t worst = 0;
  for (std::size_t i = 0; i < work.residual.size(); ++i)
    if (!(std::abs(work.residual[i]) <= std::abs(work.residual[worst]))) worst = i;
  std::string where = "a fitting or outlet";
  for (const StoneStore& stone : network.stones)
    if (stone.unknown == static_cast<int>(worst))
      where = "the stone of station " + std::to_string(stone.station);
  for (const PipeStore& pipe : network.pipes)
    if (pipe.unknown == static_cast<int>(worst))
      where = "the pipe of station " + std::to_string(pipe.station);
  throw NumericsError("the drain's water balance does not converge " + std::to_string(state.time) +
                      " s after its start, in " + where);
}

} // namespace

SolverState dry_state(const Network& network) {
  SolverState state;
  state.level.assign(network.unknowns, 0.0);
  for (const StoneStore& stone : network.stones) state.level[stone.unknown] = stone.bottom;
  for (const PipeStore& pipe : network.pipes) state.level[pipe.unknown] = pipe.invert;
  for (const PlaceStore& place : network.places) state.level[place.unknown] = place.bottom;
  state.book.assign(network.unknowns, 0.0);
  state.pace.assign(network.unknowns, 0.0);
  state.weight.assign(network.pipe_reaches.size(), 1.0);
  state.lean.assign(network.pipes.size(), 0.0);
  state.gathered.assign(network.pipes.size(), 0.0);
  state.open_pipe.assign(network.pipes.size(), 0);
  for (const PlaceStore& place : network.places) state.held.push_back(place.level + place.lift);
  state.outside.assign(network.places.size(), -std::numeric_limits<double>::infinity());
  state.pump_runs.assign(network.pumps.size(), 0);
  return state;
}

Workspace::Workspace(const Network& network)
    : balance(network), trial(network.unknowns), residual(network.unknowns), source(network.unknowns),
      last_change(network.unknowns) {}

Departures no_departures(const Network& network, std::size_t outlets) {
  Departures gone;
  gone.rise.assign(network.stones.size(), 0.0);
  gone.cap.assign(network.stones.size(), 0.0);
  gone.overflow.assign(network.pipes.size(), 0.0);
  gone.outlet.assign(outlets, 0.0);
  gone.mouth.assign(network.mouths.size(), 0.0);
  gone.foot.assign(network.feet.size(), 0.0);
  gone.passed.assign(network.places.size(), 0.0);
  return gone;
}

void advance_network(const Network& network, std::span<const double> source, std::span<const double> ponded,
                     std::span<const double> on_mouths, double dt, SolverState& state, Workspace& work,
                     Departures& departures, const GroundAhead& ground) {
  double left = dt;
  double limit = std::numeric_limits<double>::infinity(); // of this step, for a pump to switch in time [s]
  while (left > 0) {
    // No sliver at the end.
    double step = left <= 1.1 * state.next_step ? left : state.next_step;
    step = std::min({step, switch_pumps(network, state), limit});
    hold_levels(network, state.time + step, state.outside, state.held);
    const StepInput input{state.book,    source,         ponded,     state.open_pipe, state.weight,
                          state.lean,    step,           state.held, on_mouths,       state.pump_runs,
                          state.outside, state.gathered, ground};
    work.trial = state.level;
    if (!converge(network, input, work)) {
      if (step <= shortest_step) give_up(network, state, work);
      state.next_step = std::max(0.4 * step, shortest_step);
      continue;
    }
    const double part = part_before_switch(network, state, work.trial);
    if (part < 1 && step > shortest_step) {
      // A hair beyond the level, so that the pump does switch.
      limit = std::max(std::min(part * step * 1.02, 0.8 * step), shortest_step);
      continue;
    }
    limit = std::numeric_limits<double>::infinity();
    const double error = error_of(network, state, work, step);
    const double factor = std::clamp(0.9 / std::sqrt(std::max(error, 1e-6)), 0.3, 2.5);
    if (error > 3 && step > 1.2 * never_refused) {
      state.next_step = std::max(factor * step, never_refused);
      continue;
    }
    book_flows(network, input, work.balance.flows(), state, departures);
    for (int u = 0; u < network.unknowns; ++u) state.pace[u] = (work.trial[u] - state.level[u]) / step;
    state.level.swap(work.trial);
    update_weights(network, work.balance, state);
    update_leans(network, state);
    update_gathered(network, work.balance.flows(), state);
    left -= step;
    state.time += step;
    // A step cut short by the end of the interval says nothing against a longer one.
    state.next_step =
        std::max(factor * step, step < state.next_step ? state.next_step * std::min(1.0, factor) : 0.0);
    state.next_step = std::max(state.next_step, 0.5 * never_refused);
  }
}

} // namespace lowspot::drain
