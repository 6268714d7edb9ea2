// A step that may be refused, taken in shorter ones.
#pragma once
#include <functional>

namespace lowspot::yard {

// Calls `go` with `whole` [s]; where that throws NumericsError, with each half of it in turn, and so on down
// to `most` times halved, when the error goes on to the caller. `go` must have changed nothing when it
// throws.
void in_halves(double whole, int most, const std::function<void(double)>& go);

} // namespace lowspot::yard
