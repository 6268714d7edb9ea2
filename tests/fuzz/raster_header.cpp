// A raster of heights.
#include "fuzz.hpp"

#include <lowspot/gis/raster.hpp>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::filesystem::path path = fuzz::file("ground.asc", data, size);
  return fuzz::reads([&] { lowspot::gis::read_raster(path); });
}
