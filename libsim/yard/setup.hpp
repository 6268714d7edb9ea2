// Turns a site and its ground into the plain arrays that the physics modules work on.
#pragma once
#include <vector>

#include <lowspot/perched/perched.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/soil/column.hpp>
#include <lowspot/surface/flow.hpp>
#include <lowspot/terrain/ground.hpp>
#include <lowspot/yard/yard.hpp>

namespace lowspot::yard {

// The shortest step of the yard while it rains and the surface is routed [s]: see State::longest_routed().
constexpr double routed_storm_step = 30;

// The faces over which water leaves the yard on the ground, as places in ground.edges: those that are open,
// but for those over which an inflow comes (edges.inflows). The water beyond stands higher there, so none
// goes back, unless the ground falls outward more steeply than it is taken to fall beyond a flat edge.
std::vector<std::size_t> faces_out(const site::Site& site, const terrain::Ground& ground);

// What the surface layer needs of site and ground, SI.
surface::Terrain make_surface_terrain(const site::Site& site, const terrain::Ground& ground);
surface::Options make_surface_options(const Options& options);

// Columns at their initial moisture with roots where plants grow and a drying layer where nothing does.
soil::Columns make_soil_columns(const site::Site& site, const terrain::Ground& ground);

// The tight layer lies one topsoil depth below the ground; under a slab below the ground as it was before
// (terrain::find_natural_ground), the soil being what slab and base left of it. Outflow faces at open edges
// unless edges.underground says otherwise; upslope tables of edges.seeps as inflow faces.
perched::Layer make_perched_layer(const site::Site& site, const terrain::Ground& ground);

// Saturated thickness at the start [m], one a cell.
Field initial_saturated(const site::Site& site, const terrain::Ground& ground);

// What plants and the air above bare ground ask for, one entry a cell.
struct PlantDemand {
  Field crop_coefficient;   // times the share of the cell that is pervious
  Field depletion_fraction; // FAO-56 p
};
// One value a cell.
PlantDemand make_plant_demand(const site::Site& site, const terrain::Ground& ground);

} // namespace lowspot::yard
