#include <lowspot/drain/limits.hpp>

#include <array>

namespace lowspot::drain {

std::string limit_name(Limit limit) {
  static constexpr std::array<const char*, 7> names = {"nothing", "cap",  "fabric", "stone",
                                                       "slots",   "pipe", "outlet"};
  return names[static_cast<std::size_t>(limit)];
}

Limit limiting_member(const HeadLosses& losses) {
  constexpr double worth_naming = 5e-3; // m
  if (!losses.under_stress) return Limit::nothing;
  const std::array<double, 7> loss = {worth_naming, losses.cap,  losses.fabric, losses.stone,
                                      losses.slots, losses.pipe, losses.outlet};
  std::size_t most = 0;
  for (std::size_t k = 1; k < loss.size(); ++k)
    if (loss[k] > loss[most]) most = k;
  return static_cast<Limit>(most);
}

} // namespace lowspot::drain
