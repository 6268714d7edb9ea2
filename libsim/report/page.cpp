#include <lowspot/report/page.hpp>

namespace lowspot::report {

int series_class(std::size_t design) {
  return design == 0 ? 0 : 1 + static_cast<int>((design - 1) % 5);
}

} // namespace lowspot::report
