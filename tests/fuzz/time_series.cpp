// Flow or level against time: what runs in over an edge, or stands at a submerged outlet.
#include "fuzz.hpp"

#include <lowspot/site/files.hpp>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::filesystem::path path = fuzz::file("flow.csv", data, size);
  return fuzz::reads([&] { lowspot::site::read_time_series(path, "flow", lowspot::Dimension::flow); });
}
