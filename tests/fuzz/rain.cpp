// A rain gauge's table.
#include "fuzz.hpp"

#include <lowspot/rain/gauge.hpp>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::filesystem::path path = fuzz::file("rain.csv", data, size);
  return fuzz::reads([&] { lowspot::rain::read_gauge(path); });
}
