#include <lowspot/soil/column.hpp>

#include <cmath>
#include <string>

#include <lowspot/base/error.hpp>
#include <lowspot/soil/zone.hpp>

namespace lowspot::soil {
namespace {

void require(bool holds, std::size_t kind, const std::string& found, const std::string& expected) {
  if (holds) return;
  throw InputError(Where{}, "soil " + std::to_string(kind) + " with " + found, expected,
                   "Give the soil figures that can stand together.");
}

void check(const Parameters& soil, double moisture, std::size_t kind) {
  require(soil.depth > 0 && std::isfinite(soil.depth), kind, "depth " + std::to_string(soil.depth),
          "a thickness above 0");
  require(soil.porosity > 0 && soil.porosity <= 1, kind, "porosity " + std::to_string(soil.porosity),
          "a porosity between 0 and 1");
  require(soil.residual >= 0 && soil.residual < soil.porosity, kind,
          "residual content " + std::to_string(soil.residual), "a residual content below the porosity");
  require(soil.wilting_point >= 0 && soil.wilting_point <= soil.field_capacity, kind,
          "wilting point " + std::to_string(soil.wilting_point),
          "a wilting point no higher than field capacity");
  require(soil.residual <= soil.wilting_point, kind,
          "residual content " + std::to_string(soil.residual) + " over the wilting point " +
              std::to_string(soil.wilting_point),
          "a residual content no higher than the wilting point, since plants draw down to that");
  require(soil.field_capacity <= soil.porosity, kind, "field capacity " + std::to_string(soil.field_capacity),
          "a field capacity no higher than the porosity");
  require(soil.conductivity >= 0 && std::isfinite(soil.conductivity) && soil.wetting_front_suction >= 0 &&
              std::isfinite(soil.wetting_front_suction),
          kind, "a negative or endless conductivity or suction", "values of 0 or more");
  require(soil.pore_size_index > 0 && std::isfinite(soil.pore_size_index), kind,
          "pore-size index " + std::to_string(soil.pore_size_index), "a pore-size index above 0");
  require(soil.drainable_porosity >= 0 && soil.drainable_porosity <= soil.porosity, kind,
          "drainable porosity " + std::to_string(soil.drainable_porosity),
          "a drainable porosity no higher than the porosity");
  require(soil.crust_conductivity >= 0 && soil.crust_thickness >= 0 && std::isfinite(soil.crust_thickness),
          kind, "a crust of negative conductivity, or of negative or endless thickness",
          "values of 0 or more");
  require(moisture >= soil.residual && moisture <= soil.porosity, kind,
          "moisture " + std::to_string(moisture), "a moisture content from the residual to the porosity");
}

} // namespace

Columns make_columns(std::vector<Parameters> kinds, std::vector<int> kind_of_cell, Mask active,
                     const std::vector<double>& initial_moisture) {
  require(initial_moisture.size() == kinds.size(), kinds.size(), "no initial moisture",
          "one moisture a kind");
  for (std::size_t i = 0; i < kinds.size(); ++i) check(kinds[i], initial_moisture[i], i);
  const std::size_t n = kind_of_cell.size();
  if (active.size() != n)
    throw InputError(
        Where{}, "a mask of " + std::to_string(active.size()) + " cells for columns in " + std::to_string(n),
        "one entry a cell in both", "Give the mask and the kinds of the same grid.");
  for (const int kind : kind_of_cell)
    if (kind < 0 || static_cast<std::size_t>(kind) >= kinds.size())
      throw InputError(Where{}, "a cell of soil " + std::to_string(kind),
                       "a number below " + std::to_string(kinds.size()), "Give each cell one of the soils.");
  Columns columns;
  columns.kinds = std::move(kinds);
  columns.kind = std::move(kind_of_cell);
  columns.active = std::move(active);
  columns.background.resize(n);
  columns.depth.resize(n);
  columns.open.assign(n, 1.0);
  columns.bare.assign(n, 0);
  columns.front_content.resize(n);
  for (std::size_t cell = 0; cell < n; ++cell) {
    const std::size_t kind = static_cast<std::size_t>(columns.kind[cell]);
    columns.background[cell] = initial_moisture.at(kind);
    columns.depth[cell] = columns.kinds[kind].depth;
    columns.front_content[cell] = columns.kinds[kind].porosity;
  }
  columns.second_content = columns.front_content;
  columns.front.assign(n, 0.0);
  columns.second_front.assign(n, 0.0);
  columns.root_deficit.assign(n, 0.0);
  columns.root_depth.assign(n, 0.0);
  return columns;
}

double water_above(const Columns& columns, std::size_t cell, double saturated) {
  return take_zone(columns, cell, saturated).water();
}

double water_saturated(const Columns& columns, std::size_t cell, double saturated) {
  return columns.kinds[columns.kind[cell]].porosity * saturated;
}

} // namespace lowspot::soil
