#include <lowspot/catalog/catalog.hpp>
#include <lowspot/catalog/tables.hpp>

namespace lowspot::catalog {

Catalog read_catalog(const std::filesystem::path& folder) {
  Catalog catalog;
  catalog.folder = folder;
  catalog.covers = read_covers(folder / "covers.csv");
  catalog.soils = read_soils(folder / "soils.csv");
  catalog.pipes = read_pipes(folder / "pipes.csv");
  catalog.stones = read_stone(folder / "stone.csv");
  catalog.fabrics = read_fabric(folder / "fabric.csv");
  catalog.caps = read_caps(folder / "caps.csv");
  catalog.plants = read_plants(folder / "plants.csv");
  catalog.climate = read_climate(folder / "climate.csv");
  catalog.limits = read_limits(folder / "limits.csv");
  return catalog;
}

} // namespace lowspot::catalog
