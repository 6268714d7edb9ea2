// Readings in percolation holes.
#include "fuzz.hpp"

#include <lowspot/base/csv.hpp>
#include <lowspot/site/hole_table.hpp>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(reinterpret_cast<const char*>(data), size);
  return fuzz::reads([&] { lowspot::site::read_hole_table(lowspot::parse_csv(text, "holes.csv")); });
}
