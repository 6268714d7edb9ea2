// Every table of the catalogue: the first byte says which.
#include "fuzz.hpp"

#include <lowspot/catalog/tables.hpp>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace lowspot::catalog;
  if (size == 0) return 0;
  const std::filesystem::path path = fuzz::file("table.csv", data + 1, size - 1);
  return fuzz::reads([&] {
    switch (data[0]) {
    case 'c':
      read_covers(path);
      break;
    case 's':
      read_soils(path);
      break;
    case 'p':
      read_plants(path);
      break;
    case 'm':
      read_climate(path);
      break;
    case 'i':
      read_pipes(path);
      break;
    case 't':
      read_stone(path);
      break;
    case 'f':
      read_fabric(path);
      break;
    case 'l':
      read_limits(path);
      break;
    default:
      read_caps(path);
      break;
    }
  });
}
