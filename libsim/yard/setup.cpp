#include <lowspot/yard/setup.hpp>

#include <algorithm>
#include <initializer_list>

#include <lowspot/base/error.hpp>
#include <lowspot/soil/uptake.hpp>
#include <lowspot/surface/edges.hpp>
#include <lowspot/yard/crossing.hpp>
#include <lowspot/yard/outflow.hpp>
#include <lowspot/yard/seeps.hpp>

namespace lowspot::yard {
namespace {
// Roots of a cover whose plants are not named: a mown lawn's.
constexpr double lawn_root_depth = 0.15;
// A slab lies on something that holds water [m].
constexpr double least_under_slab = 0.01;

const site::Area& cover_of(const site::Site& site, const terrain::Ground& ground, std::size_t cell) {
  const int cover = ground.cover[cell];
  return cover < 0 ? site.lawn : site.areas[cover];
}
const terrain::Amendment& amendment_of(const terrain::Ground& ground, std::size_t cell) {
  static const terrain::Amendment none;
  if (ground.amended.empty() || ground.amended[cell] < 0) return none;
  return ground.amendments[ground.amended[cell]];
}

// Ground on which nothing grows dries by itself.
bool is_bare(const site::Area& cover) {
  return !cover.impervious && !cover.plants && cover.crop_coefficient <= 0 && cover.soil_evaporation > 0;
}

// A ground that a program fills in itself has a value a cell in each field, and soils and covers that there
// are.
void require_whole(const site::Site& site, const terrain::Ground& ground) {
  const std::size_t cells = ground.grid.cells();
  const auto require = [&](const char* field, std::size_t found, std::size_t expected) {
    if (found != expected)
      throw InputError({}, "a ground with " + std::to_string(found) + " values of " + field,
                       std::to_string(expected), "Give each cell of the grid one.");
  };
  require("interception", ground.interception.size(), cells);
  require("pervious", ground.pervious.size(), cells);
  require("soil", ground.soil.size(), cells);
  require("cover", ground.cover.size(), cells);
  if (!ground.jointed.empty()) require("jointed", ground.jointed.size(), cells);
  require("joint_intake", ground.joint_intake.size(), ground.jointed.size());
  for (std::size_t c = 0; c < cells; ++c)
    if (ground.soil[c] < 0 || static_cast<std::size_t>(ground.soil[c]) >= site.soils.size() ||
        ground.cover[c] >= static_cast<int>(site.areas.size()))
      throw InputError({},
                       "cell " + std::to_string(c) + " of soil " + std::to_string(ground.soil[c]) +
                           " and cover " + std::to_string(ground.cover[c]) + " in a site of " +
                           std::to_string(site.soils.size()) + " soils and " +
                           std::to_string(site.areas.size()) + " areas",
                       "an index of each, or cover -1 for lawn", "Give the site a soil, and each cell one.");
}

// Of the ground through a face at the limit, from the cell behind; none where there is no such cell [m/m].
double fall_outward(const terrain::Ground& ground, const terrain::EdgeFace& edge) {
  const Grid& grid = ground.grid;
  const bool along_x = edge.side == terrain::Side::west || edge.side == terrain::Side::east;
  const int inward = edge.side == terrain::Side::west || edge.side == terrain::Side::south ? 1 : -1;
  const auto cell = static_cast<std::size_t>(edge.cell);
  const int i = grid.column(cell) + (along_x ? inward : 0), j = grid.row(cell) + (along_x ? 0 : inward);
  if (!grid.inside(i, j) || !ground.active[grid.index(i, j)]) return 0;
  return (ground.elevation[grid.index(i, j)] - ground.elevation[cell]) / grid.cell;
}

struct SoilLayer {
  double tight_elevation = 0, thickness = 0; // m
};

// The tight layer lies one topsoil depth below the ground as it is without slabs, and lower only where a
// slab's base is dug into it. Under a slab the soil is what is left between the two.
SoilLayer soil_layer(const site::Site& site, const terrain::Ground& ground, std::size_t cell) {
  const double depth = site.soils[ground.soil[cell]].depth.likely + amendment_of(ground, cell).depth_added;
  const double top = ground.elevation[cell];
  if (ground.slab_thickness.empty() || ground.slab_thickness[cell] <= 0) return {top - depth, depth};
  const double underside = top - ground.slab_thickness[cell];
  const double dug_to = underside - std::max(ground.base_depth[cell], least_under_slab);
  const double tight = std::min(ground.natural_elevation[cell] - depth, dug_to);
  return {tight, underside - tight};
}
} // namespace

std::vector<std::size_t> faces_out(const site::Site& site, const terrain::Ground& ground) {
  std::vector<char> entered(ground.edges.size(), 0);
  for (const site::EdgeInflow& inflow : site.edges.inflows) {
    if (std::none_of(inflow.flow.begin(), inflow.flow.end(), [](double flow) { return flow > 0; })) continue;
    for (const std::size_t f : faces_along(site, ground, inflow.along, "edges.inflow '" + inflow.name + "'"))
      entered[f] = fall_outward(ground, ground.edges[f]) <= surface::flat_edge_slope;
  }
  std::vector<std::size_t> faces;
  for (std::size_t f = 0; f < ground.edges.size(); ++f)
    if (ground.edges[f].open && !entered[f]) faces.push_back(f);
  return faces;
}

surface::Terrain make_surface_terrain(const site::Site& site, const terrain::Ground& ground) {
  require_whole(site, ground);
  surface::Terrain terrain;
  terrain.grid = ground.grid;
  terrain.active = ground.active;
  terrain.elevation = ground.elevation;
  terrain.manning_n = ground.manning_n;
  terrain.manning_n_deep = ground.manning_n_deep;
  terrain.vegetation_height = ground.vegetation_height;
  terrain.depression_storage = ground.depression_storage;
  terrain.crest_x = ground.crest_x;
  terrain.crest_y = ground.crest_y;
  for (const std::size_t face : faces_out(site, ground)) {
    const terrain::EdgeFace& edge = ground.edges[face];
    const Point out = out_of_yard(site, ground.grid, edge);
    const bool aslant = std::abs(out.x) > 1e-9 && std::abs(out.y) > 1e-9;
    terrain.open_faces.push_back(
        {edge.cell, static_cast<int>(edge.side), aslant ? out.x : 0, aslant ? out.y : 0});
  }
  for (const site::CrossLine& line : site.lines)
    terrain.lines.push_back(faces_crossed(ground.grid, ground.active, over_the_limit(site, line.path)));
  return terrain;
}

surface::Options make_surface_options(const Options& options) {
  surface::Options result;
  result.method = options.method;
  result.routing_step = routed_storm_step;
  result.threads = options.threads;
  return result;
}

soil::Columns make_soil_columns(const site::Site& site, const terrain::Ground& ground) {
  std::vector<soil::Parameters> kinds;
  std::vector<double> moisture;
  // Every soil as it is, then every soil as each amendment makes it.
  const std::size_t soils = site.soils.size();
  const std::size_t versions = 1 + ground.amendments.size();
  for (std::size_t k = 0; k < soils * versions; ++k) {
    const site::Soil& soil = site.soils[k % soils];
    const terrain::Amendment better = k < soils ? terrain::Amendment{} : ground.amendments[k / soils - 1];
    soil::Parameters kind;
    kind.depth = soil.depth.likely + better.depth_added;
    kind.porosity = std::min(0.9, soil.porosity + better.porosity_added);
    kind.field_capacity = soil.field_capacity;
    kind.wilting_point = soil.wilting_point;
    kind.residual = soil.residual;
    kind.conductivity = soil.conductivity.likely * better.conductivity_factor;
    kind.wetting_front_suction = soil.wetting_front_suction;
    kind.pore_size_index = soil.pore_size_index;
    kind.drainable_porosity = soil.drainable_porosity.likely + (kind.porosity - soil.porosity);
    kind.crust_conductivity = soil.crust_conductivity;
    kind.crust_thickness = soil.crust_thickness;
    kinds.push_back(kind);
    moisture.push_back(soil.initial_moisture);
  }
  std::vector<int> kind_of = ground.soil;
  for (std::size_t cell = 0; cell < ground.amended.size(); ++cell)
    if (ground.amended[cell] >= 0) kind_of[cell] += static_cast<int>(soils) * (1 + ground.amended[cell]);
  soil::Columns columns = soil::make_columns(kinds, kind_of, ground.active, moisture);
  for (std::size_t cell = 0; cell < ground.grid.cells(); ++cell) {
    const site::Area& cover = cover_of(site, ground, cell);
    columns.depth[cell] = soil_layer(site, ground, cell).thickness;
    columns.open[cell] =
        std::min(1.0, ground.pervious[cell] + (ground.jointed.empty() ? 0 : ground.jointed[cell]));
    columns.bare[cell] = is_bare(cover);
    if (cover.plants)
      columns.root_depth[cell] = cover.plants->root_depth;
    else if (columns.bare[cell])
      columns.root_depth[cell] = soil::evaporating_depth;
    else
      columns.root_depth[cell] = cover.impervious ? 0 : lawn_root_depth;
  }
  return columns;
}

perched::Layer make_perched_layer(const site::Site& site, const terrain::Ground& ground) {
  perched::Layer layer;
  layer.grid = ground.grid;
  layer.active = ground.active;
  const std::size_t cells = ground.grid.cells();
  for (Field* field : {&layer.tight_elevation, &layer.thickness, &layer.conductivity,
                       &layer.leakage_conductivity, &layer.leakage_thickness})
    field->resize(cells);
  for (std::size_t cell = 0; cell < cells; ++cell) {
    const site::Soil& soil = site.soils[ground.soil[cell]];
    const SoilLayer here = soil_layer(site, ground, cell);
    layer.thickness[cell] = here.thickness;
    layer.tight_elevation[cell] = here.tight_elevation;
    layer.conductivity[cell] = soil.conductivity.likely * amendment_of(ground, cell).conductivity_factor;
    layer.leakage_conductivity[cell] = soil.tight_conductivity.likely;
    layer.leakage_thickness[cell] = soil.tight_thickness;
  }
  layer.inflow_faces = upslope_faces(site, ground);
  layer.outflow_faces = place_outflow(site, ground, layer.tight_elevation);
  return layer;
}

Field initial_saturated(const site::Site& site, const terrain::Ground& ground) {
  Field saturated(ground.grid.cells(), 0.0);
  for (std::size_t cell = 0; cell < saturated.size(); ++cell) {
    const site::Soil& soil = site.soils[ground.soil[cell]];
    if (ground.active[cell])
      saturated[cell] = std::min(soil.perched_start, soil_layer(site, ground, cell).thickness);
  }
  return saturated;
}

PlantDemand make_plant_demand(const site::Site& site, const terrain::Ground& ground) {
  PlantDemand demand;
  const std::size_t cells = ground.grid.cells();
  demand.crop_coefficient.assign(cells, 0.0);
  demand.depletion_fraction.assign(cells, 0.5);
  for (std::size_t cell = 0; cell < cells; ++cell) {
    if (!ground.active[cell]) continue;
    const site::Area& cover = cover_of(site, ground, cell);
    const double coefficient = cover.plants     ? cover.plants->crop_coefficient
                               : is_bare(cover) ? cover.soil_evaporation * soil::bare_ground_coefficient
                                                : cover.crop_coefficient;
    demand.crop_coefficient[cell] = coefficient * ground.pervious[cell];
    if (cover.plants) demand.depletion_fraction[cell] = cover.plants->depletion_fraction;
  }
  return demand;
}

} // namespace lowspot::yard
