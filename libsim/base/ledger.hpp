// Where every cubic metre is booked: water moves between named stores, and the books must balance.
#pragma once
#include <array>
#include <string>

namespace lowspot {

// The places between which water moves.
enum class Store {
  // outside the yard: only given to or taken from
  rain,
  inflow,
  edges,        // left over the limits of the yard, over ground and through it
  drains,       // left by the drains' outlets
  deep_leakage, // through the tight layer
  evapotranspiration,
  // inside the yard: measured at the end of every step
  surface, // ponded, flowing, held in depressions and on leaves
  soil,    // moisture above the perched zone
  perched, // saturated zone over the tight layer
  drain,   // in stone, pipes, wells
  count
};
// How many there are.
constexpr int store_count = static_cast<int>(Store::count);
// The name as in summary.json; whether the store lies inside the yard.
std::string store_name(Store store);
bool is_inside(Store store);

// The books of all water of one yard [m3].
class Ledger {
public:
  // Moves a volume [m3] from one store to another. Negative volumes move the other way.
  void move(Store from, Store to, double volume);
  // The measured content of an inside store at the start [m3]. Call once for each before the first move.
  void open(Store store, double content);
  double balance(Store store) const;        // content by the books [m3]; for outside stores: net received
  double moved(Store from, Store to) const; // gross volume moved in this direction [m3]
  double received(Store store) const;       // gross volume moved into a store [m3]
  double given(Store store) const;          // gross volume moved out of a store [m3]
  double opened(Store store) const;         // content at the start [m3]
  // Measured minus booked content of an inside store [m3].
  double misfit(Store store, double measured) const;

private:
  // Sums of many small volumes in extended precision, so that the books add no error of their own.
  std::array<std::array<long double, store_count>, store_count> moved_{};
  std::array<double, store_count> opened_{};
};

} // namespace lowspot
