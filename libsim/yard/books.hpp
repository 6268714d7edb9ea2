// Whether a yard holds the water that its books say.
#pragma once
#include <span>
#include <string>

#include <lowspot/base/ledger.hpp>

namespace lowspot::yard {

// What was measured in one store inside the yard.
struct Content {
  Store store;       // surface, soil, perched or drain
  double volume = 0; // m3
};

// What a store may differ from its books by [m3]: 1e-9 of the water the yard has to do with, which is its
// rain (`total_rain`, m3), what runs in, and a thousandth of what lay there at the start.
double allowed_misfit(const Ledger& ledger, double total_rain);

// Throws NumericsError where a store differs from its books by more, or is no number; it names the store, the
// difference, the simulated time [s] and `which` yard it was.
void check_books(const Ledger& ledger, std::span<const Content> contents, double total_rain, double time,
                 const std::string& which);

} // namespace lowspot::yard
