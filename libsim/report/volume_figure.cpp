#include <lowspot/report/volume_figure.hpp>

namespace lowspot::report {

std::string volume_figure(double volume, const Unit& unit) {
  const double shown = unit.of(volume);
  if (!(shown > 0 && shown < 10)) return figure(volume, unit, 3);
  return shown < 0.1 ? "<0.1" : fixed(shown, 1);
}

} // namespace lowspot::report
