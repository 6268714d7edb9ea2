#include <lowspot/drain/look_ahead.hpp>

#include <lowspot/base/error.hpp>

namespace lowspot::drain {

std::optional<Ahead> look_ahead(const Network& network, const SolverState& state, const AroundDrain& around,
                                const GroundAhead& ground, double dt, Workspace& work) {
  Ahead ahead{state, no_departures(network, around.outlets)};
  try {
    advance_network(network, around.source, around.ponded, around.on_mouths, dt, ahead.state, work,
                    ahead.gone, ground);
  } catch (const NumericsError&) {
    return {};
  }
  return ahead;
}

} // namespace lowspot::drain
