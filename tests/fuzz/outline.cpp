// An outline in a drawing: the first byte chooses between GeoJSON and DXF, and whether one is named.
#include "fuzz.hpp"

#include <lowspot/gis/shapes.hpp>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  const bool drawing = (data[0] & 1) != 0, named = (data[0] & 2) != 0;
  const std::filesystem::path path = fuzz::file(drawing ? "plan.dxf" : "plan.geojson", data + 1, size - 1);
  return fuzz::reads([&] { lowspot::gis::read_outline(path, named ? "PATIO" : "", ""); });
}
