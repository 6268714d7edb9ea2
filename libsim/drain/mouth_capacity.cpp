#include <lowspot/drain/mouth_capacity.hpp>

#include <algorithm>
#include <limits>

namespace lowspot::drain {

namespace {

double room(const Network& network, const SolverState& state, const MouthStore& mouth) {
  const PlaceStore& place = network.places[mouth.place];
  return std::max(0.0, place.area * (place.top - place.bottom) - state.book[place.unknown]);
}

} // namespace

void find_mouth_capacity(const Network& network, const SolverState& state, const MouthOutlook& outlook,
                         double dt, Workspace& work, std::span<double> capacity) {
  constexpr double free_fall = -std::numeric_limits<double>::infinity();
  std::vector<double> most(network.mouths.size(), 0.0); // with nothing in the way below
  for (std::size_t k = 0; k < outlook.water.size(); ++k) {
    const MouthStore& store = network.mouths[outlook.water[k].mouth];
    capacity[k] = takes_in(store) ? mouth_intake(store.mouth, outlook.water[k], free_fall, dt).value : 0;
    most[outlook.water[k].mouth] += capacity[k];
  }
  bool may_fill = false;
  for (std::size_t m = 0; m < most.size(); ++m) {
    const MouthStore& store = network.mouths[m];
    const bool stands_over = state.level[store.unknown] >= store.mouth.level;
    if (most[m] > 0 && (stands_over || most[m] * dt >= room(network, state, store))) may_fill = true;
  }
  if (!may_fill) return;
  const AroundDrain& last = outlook.around;
  std::copy(last.source.begin(), last.source.end(), work.source.begin());
  std::vector<double> depth(last.on_mouths.begin(), last.on_mouths.end());
  for (const MouthWater& water : outlook.water) depth[water.mouth] = 0;
  for (const MouthWater& water : outlook.water) depth[water.mouth] += water.share * water.depth;
  for (std::size_t m = 0; m < most.size(); ++m) work.source[network.mouths[m].unknown] -= outlook.taken[m];
  if (!outlook.cap_finds.empty())
    for (const StoneStore& stone : network.stones)
      work.source[stone.unknown] -= outlook.cap_taken[stone.station];
  const auto ahead = look_ahead(network, state, {work.source, last.ponded, depth, last.outlets},
                                {outlook.cap_finds, outlook.water, dt}, dt, work);
  for (std::size_t k = 0; k < outlook.water.size(); ++k) {
    if (ahead) {
      capacity[k] = ahead->gone.entered[k] / dt;
      continue;
    }
    const int m = outlook.water[k].mouth;
    const MouthStore& store = network.mouths[m];
    if (!takes_in(store)) continue;
    const double safe = room(network, state, store) / dt + std::max(0.0, outlook.gives[store.unknown]);
    if (most[m] > safe) capacity[k] *= safe / most[m];
  }
}

} // namespace lowspot::drain
