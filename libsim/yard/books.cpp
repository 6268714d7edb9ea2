#include <lowspot/yard/books.hpp>

#include <cmath>
#include <sstream>

#include <lowspot/base/error.hpp>

namespace lowspot::yard {

double allowed_misfit(const Ledger& ledger, double total_rain) {
  const double stored =
      ledger.opened(Store::soil) + ledger.opened(Store::perched) + ledger.opened(Store::surface);
  return 1e-9 * (total_rain + 1e-3 * stored + ledger.given(Store::inflow)) + 1e-12;
}

void check_books(const Ledger& ledger, std::span<const Content> contents, double total_rain, double time,
                 const std::string& which) {
  const double allowed = allowed_misfit(ledger, total_rain);
  for (const Content& content : contents) {
    const double misfit = ledger.misfit(content.store, content.volume);
    if (std::abs(misfit) <= allowed) continue; // written so that a NaN is caught, too
    std::ostringstream text;
    text << "the books do not close at " << time << " s: the store '" << store_name(content.store)
         << "' holds " << misfit << " m3 more than was moved into it (allowed " << allowed << " m3), "
         << which;
    throw NumericsError(text.str());
  }
}

} // namespace lowspot::yard
