#include <lowspot/drain/cap_capacity.hpp>

#include <algorithm>
#include <limits>

#include <lowspot/drain/cap.hpp>
#include <lowspot/drain/stone_store.hpp>

namespace lowspot::drain {

namespace {

constexpr double all_taken = 0.999; // of what was offered: the ground had more
constexpr double found_growth = 2;  // of what a cap finds, from one step to the next

double intake_at(const Network& network, const StoneStore& stone, double ponded, double level) {
  const Station& station = network.stations[stone.station];
  return cap_flow(station.open * stone.cap_conductance, stone.cap_depth, ponded,
                  station.ground + ponded - std::max(level, stone.bottom))
      .value;
}

double room(const StoneStore& stone, double volume) {
  return std::max(0.0, stone_volume(stone, stone.top) - volume);
}

} // namespace

void find_cap_capacity(const Network& network, const SolverState& state, const CapOutlook& outlook, double dt,
                       Workspace& work, std::span<double> capacity, std::span<double> finds) {
  std::fill(capacity.begin(), capacity.end(), 0.0);
  std::vector<double> most(network.stations.size(), 0.0);
  bool may_fill = false;
  for (const StoneStore& stone : network.stones) {
    const int i = stone.station;
    const Station& station = network.stations[i];
    capacity[i] = intake_at(network, stone, outlook.around.ponded[i], state.level[stone.unknown]);
    const bool found_less = outlook.taken[i] < all_taken * outlook.offered[i];
    finds[i] = found_less ? outlook.taken[i] : std::numeric_limits<double>::infinity();
    most[i] = found_less ? std::max(found_growth * outlook.found[i],
                                    outlook.around.ponded[i] * plan_of(station) / dt)
                         : finds[i];
    if (most[i] > 0 && std::min(capacity[i], most[i]) * dt >= room(stone, state.book[stone.unknown]))
      may_fill = true;
  }
  if (!may_fill) return;
  std::copy(outlook.around.source.begin(), outlook.around.source.end(), work.source.begin());
  for (const StoneStore& stone : network.stones) work.source[stone.unknown] -= outlook.taken[stone.station];
  const AroundDrain& last = outlook.around;
  const auto ahead = look_ahead(network, state, {work.source, last.ponded, last.on_mouths, last.outlets},
                                {most, {}, 0}, dt, work);
  for (std::size_t k = 0; k < network.stones.size(); ++k) {
    const StoneStore& stone = network.stones[k];
    const int i = stone.station;
    if (!ahead) {
      const double safe = outlook.taken[i] + room(stone, state.book[stone.unknown]) / dt;
      capacity[i] = std::min(capacity[i], safe);
      continue;
    }
    const double came = ahead->gone.cap[k] / dt;
    capacity[i] = came;
    if (came < all_taken * most[i]) continue;
    const double law = intake_at(network, stone, outlook.around.ponded[i], ahead->state.level[stone.unknown]);
    capacity[i] = std::clamp(law, came, came + room(stone, ahead->state.book[stone.unknown]) / dt);
  }
}

} // namespace lowspot::drain
