#include <lowspot/catalog/rows.hpp>
#include <lowspot/catalog/tables.hpp>

namespace lowspot::catalog {
namespace {
const ColumnUnit millimetres_an_hour{"_mm_h", 1e-3 / 3600};
const ColumnUnit millimetres_a_day{"_mm_d", 1e-3 / 86400};
const ColumnUnit celsius{"_deg_c", 1};
constexpr Limits share{0, 1};
} // namespace

std::vector<Cover> read_covers(const std::filesystem::path& file) {
  return read_rows<Cover>(file, "name", [](const RowReader& row) {
    Cover cover;
    cover.name = row.text("name");
    cover.manning_n = row.figure("manning_n", plain, {0.005, 1});
    cover.manning_n_deep = row.number("manning_n_deep", plain, {0.005, 1});
    cover.vegetation_height = row.number("vegetation_height", metres, {0, 2});
    cover.depression_storage = row.figure("depression_storage", millimetres, {0, 50});
    cover.interception = row.figure("interception", millimetres, {0, 20});
    cover.crop_coefficient = row.number("crop_coefficient", plain, {0, 1.5});
    cover.soil_evaporation = row.number("soil_evaporation", plain, share);
    cover.impervious = row.yes("impervious");
    cover.from = row.source();
    return cover;
  });
}

std::vector<SoilTexture> read_soils(const std::filesystem::path& file) {
  return read_rows<SoilTexture>(file, "name", [](const RowReader& row) {
    SoilTexture soil;
    soil.name = row.text("name");
    soil.porosity = row.figure("porosity", plain, share);
    soil.effective_porosity = row.figure("effective_porosity", plain, share);
    soil.wetting_front_suction = row.figure("wetting_front_suction", centimetres, {0, 500});
    soil.conductivity = row.figure("conductivity", millimetres_an_hour, {0, 5000});
    soil.saturated_conductivity = row.number("saturated_conductivity", millimetres_an_hour, {0, 5000});
    soil.field_capacity = row.number("field_capacity", plain, share);
    soil.wilting_point = row.number("wilting_point", plain, share);
    soil.residual = row.number("residual", plain, share);
    soil.pore_size_index = row.number("pore_size_index", plain, {0.01, 10});
    soil.bubbling_pressure = row.number("bubbling_pressure", centimetres, {0, 500});
    soil.drainable_porosity = row.figure("drainable_porosity", plain, share);
    soil.from = row.source();
    if (!(soil.residual < soil.wilting_point && soil.wilting_point < soil.field_capacity &&
          soil.field_capacity < soil.porosity.value))
      row.refuse("field_capacity", "water contents out of order",
                 "residual < wilting point < field capacity < porosity");
    return soil;
  });
}

std::vector<Plant> read_plants(const std::filesystem::path& file) {
  return read_rows<Plant>(file, "name", [](const RowReader& row) {
    Plant plant;
    plant.name = row.text("name");
    plant.root_depth = row.figure("root_depth", metres, {0.02, 5});
    plant.depletion_fraction = row.number("depletion_fraction", plain, {0.05, 0.95});
    plant.crop_coefficient = row.number("crop_coefficient", plain, {0, 1.5});
    plant.hours_to_damage.low = row.number("hours_to_damage_low", hours, {1, 10000});
    plant.hours_to_damage.high = row.number("hours_to_damage_high", hours, {1, 10000});
    // Which plant of the kind stands there is not known, so the cautious end is the figure.
    plant.hours_to_damage.value = plant.hours_to_damage.low;
    if (plant.hours_to_damage.low > plant.hours_to_damage.high)
      row.refuse("hours_to_damage_low", "more than hours_to_damage_high", "low and high in rising order");
    plant.wet_feet = row.text("wet_feet");
    if (plant.wet_feet != "low" && plant.wet_feet != "moderate" && plant.wet_feet != "high")
      row.refuse("wet_feet", "\"" + plant.wet_feet + "\"", "low, moderate or high");
    plant.from = row.source();
    return plant;
  });
}

std::vector<ClimateMonth> read_climate(const std::filesystem::path& file) {
  return read_rows<ClimateMonth>(file, "month", [](const RowReader& row) {
    return ClimateMonth{row.text("month"), row.number("reference_et", millimetres_a_day, {0, 20}),
                        row.number("daily_high", celsius, {-60, 60}), row.source()};
  });
}

} // namespace lowspot::catalog
