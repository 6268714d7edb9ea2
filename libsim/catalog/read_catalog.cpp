#include <lowspot/catalog/catalog.hpp>
#include <lowspot/catalog/table.hpp>

namespace lowspot::catalog {
namespace {
constexpr double inch = 0.0254, mm = 1e-3, cm = 1e-2, hour = 3600, day = 86400;
constexpr double mm_per_hour = mm / hour, mm_per_day = mm / day, cm2_per_m = 1e-4;

std::vector<Cover> read_covers(const Table& t) {
  std::vector<Cover> covers;
  for (const CsvRow& row : t.rows())
    covers.push_back({t.name(row), t.figure(row, "manning_n", ""), t.number(row, "manning_n_deep"),
                      t.number(row, "vegetation_height_m"), t.figure(row, "depression_storage", "_mm", mm),
                      t.figure(row, "interception", "_mm", mm), t.number(row, "crop_coefficient"),
                      t.flag(row, "impervious"), t.source(row)});
  return covers;
}

std::vector<SoilTexture> read_soils(const Table& t) {
  std::vector<SoilTexture> soils;
  for (const CsvRow& row : t.rows()) {
    const SoilTexture soil{t.name(row),
                           t.figure(row, "porosity", ""),
                           t.figure(row, "effective_porosity", ""),
                           t.figure(row, "wetting_front_suction", "_cm", cm),
                           t.figure(row, "conductivity", "_mm_per_h", mm_per_hour),
                           t.number(row, "saturated_conductivity_mm_per_h", mm_per_hour),
                           t.number(row, "field_capacity"),
                           t.number(row, "wilting_point"),
                           t.number(row, "residual"),
                           t.number(row, "pore_size_index"),
                           t.number(row, "bubbling_pressure_cm", cm),
                           t.figure(row, "drainable_porosity", ""),
                           t.source(row)};
    const bool rising = soil.residual < soil.wilting_point && soil.wilting_point < soil.field_capacity &&
                        soil.field_capacity < soil.porosity.value && soil.porosity.value < 1;
    if (!rising)
      t.refuse(row, "porosity", "moisture contents out of order",
               "residual, wilting_point, field_capacity, porosity in rising order");
    soils.push_back(soil);
  }
  return soils;
}

std::vector<Pipe> read_pipes(const Table& t) {
  std::vector<Pipe> pipes;
  for (const CsvRow& row : t.rows()) {
    pipes.push_back({t.name(row), t.number(row, "nominal_in", inch),
                     t.number(row, "inside_diameter_in", inch), t.number(row, "outside_diameter_in", inch),
                     t.figure(row, "manning_n", ""), t.number(row, "slot_area_cm2_per_m", cm2_per_m),
                     t.source(row)});
    if (pipes.back().outside_diameter <= pipes.back().inside_diameter)
      t.refuse(row, "outside_diameter_in", "not more than the inside", "inside and a wall");
  }
  return pipes;
}

std::vector<Stone> read_stones(const Table& t) {
  std::vector<Stone> stones;
  for (const CsvRow& row : t.rows())
    stones.push_back({t.name(row), t.number(row, "d10_mm", mm), t.number(row, "d50_mm", mm),
                      t.figure(row, "porosity", ""), t.figure(row, "conductivity", "_m_per_s"),
                      t.number(row, "forchheimer_b_s2_per_m2"), t.number(row, "bulk_density_kg_per_m3"),
                      t.source(row)});
  return stones;
}

std::vector<Fabric> read_fabrics(const Table& t) {
  std::vector<Fabric> fabrics;
  for (const CsvRow& row : t.rows())
    fabrics.push_back({t.name(row), t.figure(row, "permittivity", "_per_s"),
                       t.number(row, "opening_size_mm", mm), t.source(row)});
  return fabrics;
}

std::vector<Cap> read_caps(const Table& t) {
  std::vector<Cap> caps;
  for (const CsvRow& row : t.rows())
    caps.push_back({t.name(row), t.figure(row, "conductivity", "_m_per_s"), t.number(row, "depth_in", inch),
                    t.source(row)});
  return caps;
}

std::vector<Plant> read_plants(const Table& t) {
  std::vector<Plant> plants;
  for (const CsvRow& row : t.rows()) {
    const double low = t.number(row, "hours_to_damage_low", hour);
    const double high = t.number(row, "hours_to_damage_high", hour);
    if (low > high) t.refuse(row, "hours_to_damage_low", "more than the high figure", "at most that");
    const std::string wet_feet = t.text(row, "wet_feet");
    if (wet_feet != "low" && wet_feet != "moderate" && wet_feet != "high")
      t.refuse(row, "wet_feet", "\"" + wet_feet + "\"", "low, moderate or high");
    plants.push_back({t.name(row), t.figure(row, "root_depth", "_m"), t.number(row, "depletion_fraction"),
                      t.number(row, "crop_coefficient"), Figure{(low + high) / 2, low, high}, wet_feet,
                      t.source(row)});
  }
  return plants;
}

std::vector<ClimateMonth> read_climate(const Table& t) {
  std::vector<ClimateMonth> months;
  for (const CsvRow& row : t.rows())
    months.push_back({t.name(row), t.number(row, "reference_et_mm_per_d", mm_per_day), t.source(row)});
  return months;
}
} // namespace

Catalog read_catalog(const std::filesystem::path& folder) {
  return {folder,
          read_covers(Table(folder / "covers.csv", "name")),
          read_soils(Table(folder / "soils.csv", "name")),
          read_pipes(Table(folder / "pipes.csv", "name")),
          read_stones(Table(folder / "stone.csv", "name")),
          read_fabrics(Table(folder / "fabric.csv", "name")),
          read_caps(Table(folder / "caps.csv", "name")),
          read_plants(Table(folder / "plants.csv", "name")),
          read_climate(Table(folder / "climate.csv", "month"))};
}

} // namespace lowspot::catalog
