#include <lowspot/yard/in_halves.hpp>

#include <lowspot/base/error.hpp>

namespace lowspot::yard {

void in_halves(double whole, int most, const std::function<void(double)>& go) {
  try {
    return go(whole);
  } catch (const NumericsError&) {
    if (most <= 0) throw;
  }
  in_halves(whole / 2, most - 1, go);
  in_halves(whole / 2, most - 1, go);
}

} // namespace lowspot::yard
