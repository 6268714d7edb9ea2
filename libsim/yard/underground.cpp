// What happens underground in a step of the yard: plants drink, perched water flows, leaks, leaves and trades
// with trenches.
#include <algorithm>
#include <cmath>

#include <lowspot/yard/in_halves.hpp>
#include <lowspot/yard/soil_wall.hpp>
#include <lowspot/yard/state.hpp>

namespace lowspot::yard {
namespace {
// A perched step that finds no balance is taken in halves, at most so many times over: a front that it would
// take far in one goes on in several.
constexpr int most_halvings = 5;
} // namespace

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
    // Bare soil gives nothing to the air while water stands on it.
    const double in_air = rate * dt - evaporated[c] / open_water_coefficient;
    plant_demand[c] = std::max(0.0, columns.bare[c] ? demand.crop_coefficient[c] * in_air
                                                    : demand.crop_coefficient[c] * rate * dt - evaporated[c]);
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
  for (std::size_t c = 0; c < head_above.size(); ++c) {
    head_above[c] = ground.pervious[c] > 0 ? depth[c] : 0; // what stands on a slab presses on nothing below
    recharge[c] = pressing[c];
  }
  ledger.move(Store::inflow, Store::perched, hand_over_seeps());
  if (drain) {
    drain->available_for_soil(drain_dt, available);
    const std::span<const double> level = drain->stone_level();
    for (std::size_t k = 0; k < exchanges.size(); ++k) {
      const int s = exchange_station[k], cell = exchanges[k].cell;
      const drain::Station& station = drain->stations()[s];
      const double bottom = drain->layout().runs[station.run].bottom_conductivity;
      const double most = most_to_soil(station, bottom, level[s], layer, cell, saturated[cell]);
      exchanges[k].level = level[s];
      exchanges[k].available = exchange_share[k] * std::min(available[s], most * step_dt);
    }
  }
  std::fill(fresh_seepage.begin(), fresh_seepage.end(), 0.0);
  in_halves(step_dt, most_halvings, [&](double part) { move_perched_part(part, part / step_dt); });
  if (drain) hand_over_seepage(step_dt);
}

// A part of a perched step, all of it as a rule, with its share of what comes from above over the whole.
void Yard::State::move_perched_part(double part, double share) {
  soil::fillable_porosity(columns, saturated, rising, falling);
  const perched::StepResult& result = step_perched(part, share);
  const double cell_area = ground.grid.cell_area();
  double leaked = 0, left = 0, entered = 0, to_drain = 0;
  for (double volume : result.entered) entered += volume;
  for (std::size_t c = 0; c < result.leakage.size(); ++c)
    if (ground.active[c]) {
      leaked += result.leakage[c];
      books.leaked[c] += result.leakage[c];
      sinking[c] = (result.leakage[c] + share * from_saturated[c]) / part;
      books.lateral[c] += result.net_water[c] + result.leakage[c] - share * pressing[c];
    }
  for (double volume : result.left_through) left += volume;
  for (std::size_t k = 0; k < exchanges.size(); ++k) {
    fresh_seepage[exchange_station[k]] += result.exchanged[k];
    books.to_drain[exchanges[k].cell] += result.exchanged[k] / cell_area;
    books.lateral[exchanges[k].cell] += result.exchanged[k] / cell_area;
    exchanges[k].available = std::max(0.0, exchanges[k].available + std::min(0.0, result.exchanged[k]));
    to_drain += result.exchanged[k];
  }
  ledger.move(Store::inflow, Store::perched, entered);
  ledger.move(Store::perched, Store::deep_leakage, leaked * cell_area);
  ledger.move(Store::perched, Store::edges, left);
  ledger.move(Store::perched, Store::drain, to_drain);
  flows.underground += left;
  std::copy(result.net_water.begin(), result.net_water.end(), net.begin());
  find_table_pace(part, share);
  apply_net(Store::deep_leakage);
  last_perched = part;
  if (!drain) return;
  find_soil_wall(layer, drain->stations(), walls, exchanges, result.exchanged, saturated, soil_wall,
                 soil_gives);
  for (double& gives : soil_gives) gives /= part;
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
void Yard::State::find_table_pace(double dt, double share) {
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
      leaving[c] = std::max(0.0, share * (drunk + pressing[c]) - net[c]) / dt;
  }
  table_pace = moved / dt;
}

void Yard::State::reclassify_moisture() {
  // A table that rises takes in the moisture it meets, one that falls leaves some behind: both stay in the
  // column.
  const double taken_in = ledger.misfit(Store::perched, measured(Store::perched));
  ledger.move(Store::soil, Store::perched, taken_in);
}

} // namespace lowspot::yard
