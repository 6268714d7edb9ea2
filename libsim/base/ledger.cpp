#include <lowspot/base/ledger.hpp>

namespace lowspot {
namespace {
int at(Store store) {
  return static_cast<int>(store);
}
} // namespace

std::string store_name(Store store) {
  static const char* const names[store_count] = {
      "rain",    "inflow", "edges",         "drains", "deep leakage", "evapotranspiration",
      "surface", "soil",   "perched water", "drain"};
  return names[at(store)];
}

bool is_inside(Store store) {
  return at(store) >= at(Store::surface);
}

void Ledger::move(Store from, Store to, double volume) {
  if (volume >= 0)
    moved_[at(from)][at(to)] += volume;
  else
    moved_[at(to)][at(from)] -= volume;
}

void Ledger::open(Store store, double content) {
  opened_[at(store)] = content;
}

double Ledger::received(Store store) const {
  long double sum = 0;
  for (int k = 0; k < store_count; ++k) sum += moved_[k][at(store)];
  return static_cast<double>(sum);
}

double Ledger::given(Store store) const {
  long double sum = 0;
  for (int k = 0; k < store_count; ++k) sum += moved_[at(store)][k];
  return static_cast<double>(sum);
}

double Ledger::balance(Store store) const {
  long double sum = opened_[at(store)];
  for (int k = 0; k < store_count; ++k) sum += moved_[k][at(store)] - moved_[at(store)][k];
  return static_cast<double>(sum);
}

double Ledger::moved(Store from, Store to) const {
  return static_cast<double>(moved_[at(from)][at(to)]);
}
double Ledger::opened(Store store) const {
  return opened_[at(store)];
}
double Ledger::misfit(Store store, double measured) const {
  return measured - balance(store);
}

} // namespace lowspot
