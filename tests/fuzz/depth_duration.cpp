// A table of rain depth against duration and return period.
#include "fuzz.hpp"

#include <lowspot/rain/depth_duration.hpp>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::filesystem::path path = fuzz::file("storms.csv", data, size);
  return fuzz::reads([&] { lowspot::rain::read_depth_duration(path, 10); });
}
