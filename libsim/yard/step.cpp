// One step of the yard. Every exchange is an offer and what was taken of it, booked between two stores.
#include <algorithm>
#include <cmath>

#include <lowspot/yard/state.hpp>

namespace lowspot::yard {
namespace {
// Open water evaporates a little faster than the reference grass (Allen et al. 1998, table 12).
constexpr double open_water_coefficient = 1.05;

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
    const double held = std::min(falling_rain * dt, std::max(0.0, ground.interception[c] - canopy[c]));
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

void Yard::State::offer_sinks(double dt) {
  const std::span<const double> depth = flow.depth();
  std::copy(depth.begin(), depth.end(), depth_before.begin());
  if (since_soil <= 0) renew_soil_capacity(dt);
  std::fill(trench_capacity.begin(), trench_capacity.end(), 0.0);
  if (drain) {
    for (std::size_t s = 0; s < ponded.size(); ++s) {
      ponded[s] = 0;
      for (const CellShare& part : trench.stations[s])
        ponded[s] += (depth[part.cell] + supply[part.cell] * dt) * part.area / trench.area[s];
    }
    drain->cap_capacity(ponded, dt, cap_capacity);
    for (std::size_t s = 0; s < ponded.size(); ++s)
      for (const CellShare& part : trench.stations[s])
        trench_capacity[part.cell] +=
            cap_capacity[s] * part.area / (trench.area[s] * ground.grid.cell_area());
    offer_mouths(*drain, ground, flow, supply, dt, mouths, trench_capacity);
  }
  const double evaporation = evaporation_rate() * open_water_coefficient;
  for (std::size_t c = 0; c < sink.size(); ++c) {
    if (!ground.active[c]) continue;
    air_capacity[c] = depth[c] > 0 ? evaporation : 0;
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
  // Share what was taken by what each taker could have had.
  double to_soil = 0, to_air = 0, to_trench = 0, arriving = 0;
  std::fill(through_cap.begin(), through_cap.end(), 0.0);
  for (std::size_t c = 0; c < taken.size(); ++c) {
    if (!ground.active[c]) continue;
    arriving += supply[c];
    if (taken[c] <= 0) continue;
    const double soil_part = taken[c] * (soil_capacity[c] / sink[c]);
    const double trench_part = taken[c] * (trench_capacity[c] / sink[c]);
    const double air_part = taken[c] - soil_part - trench_part;
    soil_water[c] += soil_part;
    books.infiltrated[c] += soil_part;
    evaporated[c] += air_part;
    to_soil += soil_part;
    to_trench += trench_part;
    to_air += air_part;
  }
  for (std::size_t s = 0; s < through_cap.size(); ++s)
    for (const CellShare& part : trench.stations[s])
      if (taken[part.cell] > 0)
        through_cap[s] +=
            cap_capacity[s] * (part.area / trench.area[s]) * (taken[part.cell] / sink[part.cell]) / dt;
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
    const double part = std::min(canopy[c], drying);
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
      cover.taken[k] = cover.offered[k] > 0 ? cover.offered[k] * (taken[cell] / sink[cell]) / dt : 0;
      through_mouth[m] += cover.taken[k];
    }
    sum += through_mouth[m] * dt;
  }
  return sum;
}

// Moves the table by `net` and returns what found the column full to the ground.
void Yard::State::apply_net(Store returned_from, bool hold) {
  soil::change_saturated(columns, saturated, net, overflow, short_of);
  if (hold) return pressing.swap(overflow);
  double risen = 0, missing = 0;
  for (std::size_t c = 0; c < overflow.size(); ++c) {
    if (!ground.active[c]) continue;
    later.water[c] += overflow[c];
    books.returned[c] += overflow[c];
    (returned_from == Store::evapotranspiration ? books.drunk : books.leaked)[c] -= short_of[c];
    risen += overflow[c];
    missing += short_of[c];
  }
  const double cell_area = ground.grid.cell_area();
  ledger.move(Store::perched, Store::surface, risen * cell_area);
  // What was asked of an empty zone was not given after all.
  if (missing > 0) ledger.move(returned_from, Store::perched, missing * cell_area);
}

void Yard::State::draw_up(double dt) {
  const double rate = evaporation_rate();
  if (rate <= 0) {
    std::fill(evaporated.begin(), evaporated.end(), 0.0);
    std::fill(from_saturated.begin(), from_saturated.end(), 0.0);
    return;
  }
  for (std::size_t c = 0; c < plant_demand.size(); ++c) {
    plant_demand[c] = std::max(0.0, demand.crop_coefficient[c] * rate * dt - evaporated[c]);
    evaporated[c] = 0;
  }
  soil::take_up(columns, saturated, plant_demand, demand.depletion_fraction, from_soil, from_saturated, dt);
  double above = 0, below = 0;
  for (std::size_t c = 0; c < net.size(); ++c) {
    if (!ground.active[c]) continue;
    above += from_soil[c];
    below += from_saturated[c];
    books.drunk[c] += from_soil[c] + from_saturated[c];
    const double refilled = std::min(pressing[c], from_saturated[c]);
    pressing[c] -= refilled;
    net[c] = refilled - from_saturated[c];
  }
  const double cell_area = ground.grid.cell_area();
  ledger.move(Store::soil, Store::evapotranspiration, above * cell_area);
  ledger.move(Store::perched, Store::evapotranspiration, below * cell_area);
  if (below > 0) apply_net(Store::evapotranspiration);
}

// Puts what seeps brought since the last time into `recharge` and returns it [m3].
double Yard::State::hand_over_seeps() {
  double arrived = 0;
  for (Seep& seep : seeps) {
    const double each = seep.waiting / (ground.grid.cell_area() * static_cast<double>(seep.cells.size()));
    for (const int cell : seep.cells) recharge[cell] += each;
    arrived += seep.waiting;
    seep.waiting = 0;
  }
  return arrived;
}

void Yard::State::move_perched(double step_dt, double drain_dt) {
  const std::span<const double> depth = flow.depth();
  soil::fillable_porosity(columns, saturated, rising, falling);
  for (std::size_t c = 0; c < head_above.size(); ++c) {
    head_above[c] = depth[c];
    recharge[c] = pressing[c];
  }
  double arrived = hand_over_seeps();
  if (drain) {
    drain->available_for_soil(drain_dt, available);
    const std::span<const double> level = drain->stone_level();
    for (std::size_t k = 0; k < exchanges.size(); ++k) {
      exchanges[k].level = level[exchange_station[k]];
      exchanges[k].available = available[exchange_station[k]] * exchange_share[k];
    }
  }
  const perched::StepResult& result = step_perched(step_dt);
  const double cell_area = ground.grid.cell_area();
  double leaked = 0, left = 0, to_drain = 0;
  for (double volume : result.entered) arrived += volume;
  for (std::size_t c = 0; c < result.leakage.size(); ++c)
    if (ground.active[c]) {
      leaked += result.leakage[c];
      books.leaked[c] += result.leakage[c];
      sinking[c] = (result.leakage[c] + from_saturated[c]) / step_dt;
      books.lateral[c] += result.net_water[c] + result.leakage[c] - pressing[c];
    }
  for (double volume : result.left_through) left += volume;
  std::fill(fresh_seepage.begin(), fresh_seepage.end(), 0.0);
  for (std::size_t k = 0; k < exchanges.size(); ++k) {
    fresh_seepage[exchange_station[k]] += result.exchanged[k];
    books.to_drain[exchanges[k].cell] += result.exchanged[k] / cell_area;
    books.lateral[exchanges[k].cell] += result.exchanged[k] / cell_area;
    to_drain += result.exchanged[k];
  }
  ledger.move(Store::inflow, Store::perched, arrived);
  ledger.move(Store::perched, Store::deep_leakage, leaked * cell_area);
  ledger.move(Store::perched, Store::edges, left);
  ledger.move(Store::perched, Store::drain, to_drain);
  flows.underground += left;
  std::copy(result.net_water.begin(), result.net_water.end(), net.begin());
  find_table_pace(step_dt);
  apply_net(Store::deep_leakage);
  last_perched = step_dt;
  if (drain) hand_over_seepage(step_dt);
}

// Water that the soil has given in a perched step comes to the drain at an even rate until the next. What was
// still on its way goes on as fast as before: all at once it would make a peak of its own.
void Yard::State::hand_over_seepage(double step_dt) {
  const double span = std::max(step_dt, perched_interval());
  for (std::size_t s = 0; s < seeping.size(); ++s) {
    const double rate = std::max(fresh_seepage[s], 0.0) / span;
    seepage_rate[s] = seeping[s] > 0 ? std::max(seepage_rate[s], rate) : rate;
    seeping[s] += fresh_seepage[s];
  }
}

// How fast the table moved by what flowed, and what full columns under water lost: as much more can soak in.
// Where a table meets a wetting front it jumps; that is not counted, since no shorter step would make less of
// it.
void Yard::State::find_table_pace(double dt) {
  constexpr double full_within = 1e-3; // m
  double moved = 0;
  for (std::size_t c = 0; c < net.size(); ++c) {
    leaving[c] = 0;
    if (!ground.active[c]) continue;
    const double above = columns.depth[c] - saturated[c];
    moved = std::max(moved, net[c] > 0 ? std::min(net[c] / rising[c], above)
                                       : std::min(-net[c] / falling[c], saturated[c]));
    const double drunk = from_saturated[c];
    if (head_above[c] > 0 && above <= full_within + drunk / falling[c])
      leaving[c] = std::max(0.0, drunk + pressing[c] - net[c]) / dt;
  }
  table_pace = moved / dt;
}

void Yard::State::reclassify_moisture() {
  // A table that rises takes in the moisture it meets, one that falls leaves some behind: both stay in the
  // column.
  const double taken_in = ledger.misfit(Store::perched, measured(Store::perched));
  ledger.move(Store::soil, Store::perched, taken_in);
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
  const double stored_before = drain->stored();
  for (std::size_t m = 0; m < mouths.size(); ++m) on_mouths[m] = mouths[m].ponded;
  const drain::Outcome outcome =
      drain->advance(dt, {through_cap, seeping_now, {}, through_mouth, into_tap}, ponded, on_mouths);
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
