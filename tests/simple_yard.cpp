#include "simple_yard.hpp"

#include <limits>

SimpleYard simple_yard(int nx, int ny, double cell, const std::function<double(double, double)>& elevation) {
  using namespace lowspot;
  SimpleYard yard;
  site::Site& site = yard.site;
  site.name = "test yard";
  site.units = "m";
  site.unit = 1;
  site.outline = {{0, 0}, {nx * cell, 0}, {nx * cell, ny * cell}, {0, ny * cell}};
  site.lawn.name = "ground";
  site.lawn.manning_n = site.lawn.manning_n_deep = 0.025;
  site.lawn.impervious = true;
  site::Soil soil;
  soil.name = "soil";
  soil.depth = {0.3, 0.3, 0.3};
  soil.conductivity = {1e-6, 1e-6, 1e-6};
  soil.porosity = 0.45;
  soil.field_capacity = 0.30;
  soil.wilting_point = 0.12;
  soil.residual = 0.03;
  soil.wetting_front_suction = 0.1;
  soil.pore_size_index = 0.3;
  soil.drainable_porosity = {0.1, 0.1, 0.1};
  soil.initial_moisture = 0.30;
  soil.tight_conductivity = {0, 0, 0};
  site.soils = {soil};
  site.storm.reference_et = 0;
  site.storm.dry = 3600;
  terrain::Ground& ground = yard.ground;
  ground.grid = {nx, ny, cell, 0, 0};
  const std::size_t cells = ground.grid.cells();
  ground.active.assign(cells, 1);
  ground.elevation.resize(cells);
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i)
      ground.elevation[ground.grid.index(i, j)] = elevation(ground.grid.x(i), ground.grid.y(j));
  ground.manning_n.assign(cells, 0.025);
  ground.manning_n_deep.assign(cells, 0.025);
  for (Field* field :
       {&ground.vegetation_height, &ground.depression_storage, &ground.interception, &ground.pervious})
    field->assign(cells, 0.0);
  ground.soil.assign(cells, 0);
  ground.cover.assign(cells, -1);
  ground.crest_x.assign(ground.grid.x_faces(), -std::numeric_limits<double>::infinity());
  ground.crest_y.assign(ground.grid.y_faces(), -std::numeric_limits<double>::infinity());
  using terrain::Side;
  for (int j = 0; j < ny; ++j) {
    ground.edges.push_back({static_cast<int>(ground.grid.index(0, j)), Side::west, false, Side::west});
    ground.edges.push_back({static_cast<int>(ground.grid.index(nx - 1, j)), Side::east, false, Side::east});
  }
  for (int i = 0; i < nx; ++i) {
    ground.edges.push_back({static_cast<int>(ground.grid.index(i, 0)), Side::south, false, Side::south});
    ground.edges.push_back({static_cast<int>(ground.grid.index(i, ny - 1)), Side::north, false, Side::north});
  }
  yard.rain.time = {0, 3600};
  yard.rain.intensity = {0};
  return yard;
}

lowspot::site::Design simple_drain(const SimpleYard& yard, double depth) {
  using namespace lowspot;
  const double width = yard.ground.grid.nx * yard.ground.grid.cell;
  const double middle = yard.ground.grid.ny * yard.ground.grid.cell / 2;
  site::Design design;
  design.name = "drain";
  site::Run run;
  run.name = "run";
  run.path = {{width * 0.2, middle}, {width, middle}};
  run.pipe = {"pipe", 0.1, 0.115, 0.015, 0.002, 0.61};
  run.trench_width = 0.3;
  run.trench_depth = depth;
  run.bedding = 0.05;
  run.fall = 0.01;
  run.stone = {"stone", 0.38, 0.1, 0};
  run.fabric = {"fabric", 1.5, 1};
  run.cap = {"open stone", 0.1, 0};
  run.to = "outlet";
  design.runs = {run};
  site::Outlet outlet;
  outlet.name = "outlet";
  outlet.kind = "daylight";
  outlet.at = {width, middle};
  design.outlets = {outlet};
  return design;
}
