// One step of the yard. Every exchange is an offer and what was taken of it, booked between two stores.
#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/yard/standing_water.hpp>
#include <lowspot/yard/state.hpp>

namespace lowspot::yard {
namespace {
double flow_at(const EdgeSupply& supply, double time) {
  const auto next = std::upper_bound(supply.time.begin(), supply.time.end(), time);
  return next == supply.time.begin() ? 0.0 : supply.flow[next - supply.time.begin() - 1];
}
} // namespace

double Yard::State::evaporation_rate() const {
  // Air is near saturation while it rains.
  return rain.at(time) > 0 ? 0 : reference_et;
}

void Yard::State::gather_supply(double dt, double before) {
  const double intensity = rain.at(time);
  const double cell_area = ground.grid.cell_area();
  flows.rain = intensity;
  if (intensity > 0) last_rain = time + dt;
  double fallen = 0;
  if (sources) sources->begin();
  for (std::size_t c = 0; c < supply.size(); ++c) {
    if (!ground.active[c]) continue;
    // Leaves and mulch fill before anything reaches the ground.
    const double falling_rain = intensity * open_sky[c];
    const double leaves = ground.interception[c] * open_sky[c]; // none under a roof
    const double held = std::min(falling_rain * dt, std::max(0.0, leaves - canopy[c]));
    canopy[c] += held;
    books.rain[c] += falling_rain * dt - held;
    const double rain_rate = std::max(0.0, falling_rain - held / dt);
    const Arriving arriving = let_go(later, c, before, dt);
    supply[c] = rain_rate + arriving.all;
    if (sources) {
      const int cell = static_cast<int>(c);
      sources->rain(cell, rain_rate);
      sources->below(cell, arriving.all - arriving.from_drain);
      sources->drain(cell, arriving.from_drain);
    }
    fallen += falling_rain * dt;
  }
  ledger.move(Store::rain, Store::surface, fallen * cell_area);
  rain_so_far += fallen * cell_area;
  for (std::size_t r = 0; r < roofs.size(); ++r) {
    const RoofDischarge& roof = roofs[r];
    const double flow_in = roof.roof_area * intensity;
    rain_so_far += flow_in * dt;
    if (roof.tap >= 0) {
      into_tap[roof.tap] = flow_in;
      ledger.move(Store::rain, Store::drain, flow_in * dt);
      continue;
    }
    pour(roof.cells, flow_in, sources ? sources->roof(r) : -1);
    ledger.move(Store::rain, Store::surface, flow_in * dt);
  }
  for (std::size_t k = 0; k < edge_supplies.size(); ++k) {
    const double arriving = flow_at(edge_supplies[k], time);
    pour(edge_supplies[k].cells, arriving, sources ? sources->inflow(k) : -1);
    ledger.move(Store::inflow, Store::surface, arriving * dt);
  }
  for (std::size_t k = 0; k < leaks.size(); ++k) {
    if (time >= leaks[k].until) continue;
    pour(leaks[k].cells, leaks[k].flow, sources ? sources->leak(k) : -1);
    ledger.move(Store::inflow, Store::surface, leaks[k].flow * dt);
  }
  if (sources) flow.tags()->set_supply(sources->arriving());
}

// Adds a flow [m3/s], shared evenly among cells, to what arrives; tag: its source, when they are followed.
void Yard::State::pour(const std::vector<int>& cells, double arriving, int tag) {
  const double rate = arriving / (ground.grid.cell_area() * static_cast<double>(cells.size()));
  for (int cell : cells) {
    supply[cell] += rate;
    if (sources) sources->add(cell, tag, rate);
  }
}

// Water over each station and each mouth. Full stone under a moving pond carries water along below it: what
// goes in at one place comes up at another within the step, more of it than stands there, and with the pond
// as it is at this moment the two would change places from step to step. Followed with a lag of some steps
// the exchange settles at the flow that a longer lag and the routed method give, too.
void Yard::State::find_ponded() {
  constexpr double followed = 0.25; // of a change, each time it is asked: twice a step
  const std::span<const double> depth = flow.depth();
  const double part_of_change = routed || flow.at_rest() ? 1 : followed;
  for (std::size_t s = 0; s < ponded.size(); ++s) {
    double now = 0;
    for (const CellShare& part : trench.stations[s]) now += depth[part.cell] * part.area / trench.area[s];
    ponded[s] += part_of_change * (now - ponded[s]);
  }
  for (std::size_t m = 0; m < mouths.size(); ++m) {
    on_mouths[m] = 0;
    for (std::size_t k = 0; k < mouths[m].cells.size(); ++k)
      on_mouths[m] += mouths[m].shares[k] * depth[mouths[m].cells[k]];
  }
}

void Yard::State::offer_sinks(double dt) {
  const std::span<const double> depth = flow.depth();
  std::copy(depth.begin(), depth.end(), depth_before.begin());
  if (since_soil <= 0) renew_soil_capacity(dt);
  std::fill(trench_capacity.begin(), trench_capacity.end(), 0.0);
  if (drain) {
    find_ponded();
    drain->cap_capacity(ponded, dt, cap_capacity);
    for (std::size_t s = 0; s < ponded.size(); ++s)
      for (const CellShare& part : trench.stations[s])
        trench_capacity[part.cell] +=
            cap_capacity[s] * part.area / (trench.area[s] * ground.grid.cell_area());
    offer_mouths(*drain, ground, flow, supply, dt, mouths, trench_capacity);
  }
  const double reference = evaporation_rate(), evaporation = reference * open_water_coefficient;
  for (std::size_t c = 0; c < sink.size(); ++c) {
    if (!ground.active[c]) continue;
    // Leaves over the water dry first: air has one demand for both.
    const double from_leaves = std::min(canopy[c] / dt, reference * open_sky[c]);
    air_capacity[c] = depth[c] > 0 ? std::max(0.0, evaporation - from_leaves) : 0;
    sink[c] = soil_capacity[c] + trench_capacity[c] + air_capacity[c];
  }
}

void Yard::State::move_surface(double dt) {
  flow.advance(dt, supply, sink, taken);
  const double cell_area = ground.grid.cell_area();
  std::fill(std::begin(flows.side_volume), std::end(flows.side_volume), 0.0);
  const std::span<const double> left = flow.left_through();
  double gone = 0;
  pool_pace = 0;
  for (std::size_t c = 0; flow.at_rest() && c < depth_before.size(); ++c)
    if (flow.depth()[c] > wet_ground)
      pool_pace = std::max(pool_pace, (depth_before[c] - flow.depth()[c]) / dt);
  for (std::size_t k = 0; k < left.size(); ++k) {
    flows.side_volume[edge_side[k]] += left[k];
    gone += left[k];
  }
  ledger.move(Store::surface, Store::edges, gone);
  flows.lines.assign(flow.crossed().begin(), flow.crossed().end());
  // Share what was taken by what each taker could have had. A trench and the soil beside it in one cell each
  // have what comes to their part of the ground, as far as they can take it, and then what the other leaves.
  double to_soil = 0, to_air = 0, to_trench = 0, arriving = 0;
  std::fill(through_cap.begin(), through_cap.end(), 0.0);
  for (std::size_t c = 0; c < taken.size(); ++c) {
    if (!ground.active[c]) continue;
    arriving += supply[c];
    trench_took[c] = 0;
    if (taken[c] <= 0) continue;
    const double air_part = taken[c] * (air_capacity[c] / sink[c]);
    const double rest = taken[c] - air_part;
    const double soil_part = trench.share[c] > 0
                                 ? std::max({0.0, rest - trench_capacity[c] * dt,
                                             std::min(soil_capacity[c] * dt, (1 - trench.share[c]) * rest)})
                                 : taken[c] * (soil_capacity[c] / sink[c]);
    const double trench_part = trench_capacity[c] > 0 ? rest - soil_part : 0;
    if (trench_part > 0) trench_took[c] = std::min(1.0, trench_part / (trench_capacity[c] * dt));
    soil_water[c] += soil_part;
    books.infiltrated[c] += soil_part;
    evaporated[c] += air_part;
    to_soil += soil_part;
    to_trench += trench_part;
    to_air += air_part;
  }
  for (std::size_t s = 0; s < through_cap.size(); ++s) {
    double met = 0; // what each part took, times the share of its offer that this was
    for (const CellShare& part : trench.stations[s]) {
      const double in = cap_capacity[s] * (part.area / trench.area[s]) * trench_took[part.cell];
      through_cap[s] += in;
      met += in * trench_took[part.cell];
    }
    cap_found[s] = through_cap[s] > 0 ? cap_capacity[s] * met / through_cap[s] : 0;
  }
  const double share = arriving > 0 ? (to_soil + to_trench) / (arriving * dt) : 0;
  share_pace = std::abs(share - share_taken) / dt;
  share_taken = share;
  ledger.move(Store::surface, Store::soil, to_soil * cell_area);
  ledger.move(Store::surface, Store::drain, to_trench * cell_area);
  ledger.move(Store::surface, Store::evapotranspiration, to_air * cell_area);
  flows.infiltrated = (to_soil + to_trench) * cell_area - take_by_mouths(dt);
  // Leaves dry into the air at the reference rate.
  const double drying = evaporation_rate() * dt;
  double from_leaves = 0;
  for (std::size_t c = 0; drying > 0 && c < canopy.size(); ++c) {
    const double part = std::min(canopy[c], drying * open_sky[c]);
    canopy[c] -= part;
    evaporated[c] += part;
    from_leaves += part;
  }
  ledger.move(Store::surface, Store::evapotranspiration, from_leaves * cell_area);
}

// What each mouth took, by its share in what its cells could have given.
double Yard::State::take_by_mouths(double dt) {
  double sum = 0;
  for (std::size_t m = 0; m < mouths.size(); ++m) {
    MouthCover& cover = mouths[m];
    through_mouth[m] = 0;
    for (std::size_t k = 0; k < cover.cells.size(); ++k) {
      const int cell = cover.cells[k];
      cover.taken[k] = cover.offered[k] > 0 ? cover.offered[k] * trench_took[cell] : 0;
      through_mouth[m] += cover.taken[k];
    }
    sum += through_mouth[m] * dt;
  }
  return sum;
}

// Wells have their mouth, and a pump's hose pours from above: no water outside holds these back.
void Yard::State::find_water_at_outlets() {
  for (std::size_t k = 0; k < outlet_cell.size(); ++k) {
    at_outlets[k] = -std::numeric_limits<double>::infinity();
    const int cell = outlet_cell[k];
    const drain::OutletKind kind = drain->layout().outlets[k].kind;
    if (cell < 0 || (kind != drain::OutletKind::daylight && kind != drain::OutletKind::pop_up)) continue;
    at_outlets[k] = level_at_outlet(ground.elevation[cell], standing_depth(ground, flow.depth(), cell),
                                    drain->outlet_rim(static_cast<int>(k)));
  }
}

void Yard::State::move_drain(double dt) {
  const double cell_area = ground.grid.cell_area();
  // Water the soil takes was promised for this step.
  for (std::size_t s = 0; s < seeping.size(); ++s) {
    const double going = seepage_rate[s] * dt * (1 + 1e-9); // nothing is left for want of rounding
    const double now = std::min(seeping[s], going);
    seeping_now[s] = now / dt;
    seeping[s] -= now;
  }
  find_water_at_outlets();
  const double stored_before = drain->stored();
  const std::span<const double> level = drain->stone_level();
  stone_before.assign(level.begin(), level.end());
  // What rises out of the drain meets the water there is now: what rose before may have run off.
  find_ponded();
  const drain::Outcome outcome = drain->advance(
      dt, {through_cap, seeping_now, {}, through_mouth, into_tap, soil_wall, soil_gives, cap_found}, ponded,
      on_mouths, at_outlets);
  flows.outlets = outcome.outlet_volume;
  const auto rise = [&](int cell, double depth) {
    later.water[cell] += depth;
    later.from_drain[cell] += depth;
  };
  for (std::size_t k = 0; k < outcome.outlet_volume.size(); ++k) {
    const double volume = outcome.outlet_volume[k];
    if (outlet_cell[k] < 0) {
      ledger.move(Store::drain, Store::drains, volume);
    } else {
      rise(outlet_cell[k], volume / cell_area);
      ledger.move(Store::drain, Store::surface, volume);
    }
  }
  double risen = 0;
  for (std::size_t s = 0; s < outcome.to_surface.size(); ++s) {
    if (outcome.to_surface[s] <= 0) continue;
    if (trench.stations[s].empty()) rise(rises_at[s], outcome.to_surface[s] / cell_area);
    for (const CellShare& part : trench.stations[s])
      rise(part.cell, outcome.to_surface[s] * part.area / (trench.area[s] * cell_area));
    risen += outcome.to_surface[s];
  }
  for (std::size_t m = 0; m < mouths.size(); ++m) {
    for (std::size_t k = 0; outcome.from_mouth[m] > 0 && k < mouths[m].cells.size(); ++k)
      rise(mouths[m].cells[k], outcome.from_mouth[m] * mouths[m].shares[k] / cell_area);
    risen += outcome.from_mouth[m];
  }
  ledger.move(Store::drain, Store::surface, risen);
  ledger.move(Store::drain, Store::deep_leakage, outcome.to_depth);
  double moved = std::abs(drain->stored() - stored_before) + risen;
  for (double volume : outcome.outlet_volume) moved += volume;
  drain_pace = moved / dt;
  stone_pace = 0;
  for (std::size_t s = 0; s < stone_before.size(); ++s) {
    stone_pace = std::max(stone_pace, std::abs(level[s] - stone_before[s]) / dt);
    // What passes through from above counts as a rise: full stone takes in no more than there was room at the
    // start.
    const drain::Station& station = drain->stations()[s];
    const double pores = drain->layout().runs[station.run].stone.porosity * drain::plan_of(station);
    if (pores > 0) stone_pace = std::max(stone_pace, through_cap[s] / pores);
  }
}

void Yard::State::step(double dt) {
  const double before = flows.dt;
  flows.start = time;
  flows.dt = dt;
  flows.underground = 0;
  if (since_soil > 0 && since_soil + dt > soil_span * (1 + 1e-9)) soak(0);
  gather_supply(dt, before);
  offer_sinks(dt);
  move_surface(dt);
  for (Seep& seep : seeps) seep.waiting += flow_at(seep, time) * dt;
  since_soil += dt;
  since_perched += dt;
  const bool perched_due = since_perched >= perched_interval();
  if (perched_due) {
    soak(since_perched);
    draw_up(since_perched);
    move_perched(since_perched, dt);
    since_perched = 0;
  }
  if (drain) move_drain(dt);
  if (perched_due) {
    reclassify_moisture();
    check_books();
  }
}

} // namespace lowspot::yard
