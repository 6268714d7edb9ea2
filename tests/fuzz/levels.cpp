// A rod book or reduced levels, in feet and in metres.
#include "fuzz.hpp"

#include <lowspot/base/csv.hpp>
#include <lowspot/terrain/levels.hpp>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(reinterpret_cast<const char*>(data), size);
  fuzz::reads([&] { lowspot::terrain::reduce_levels(lowspot::parse_csv(text, "levels.csv"), {}); });
  return fuzz::reads([&] {
    lowspot::terrain::reduce_levels(lowspot::parse_csv(text, "levels.csv"), {1, 0.01, "m"});
  });
}
