// The site file, with the tables of the demo beside it.
#include "fuzz.hpp"

#include <lowspot/catalog/catalog.hpp>
#include <lowspot/site/read_site.hpp>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const lowspot::catalog::Catalog catalog =
      lowspot::catalog::read_catalog(std::filesystem::path(LOWSPOT_SOURCE_DATA) / "catalog");
  fuzz::folder();
  for (const char* table : {"levels.csv", "depth_duration.csv"})
    if (!std::filesystem::exists(table))
      std::filesystem::copy_file(std::filesystem::path(LOWSPOT_SOURCE_DATA) / "demo" / table, table);
  const std::filesystem::path site = fuzz::file("site.toml", data, size);
  return fuzz::reads([&] { lowspot::site::read_site(site, catalog); });
}
