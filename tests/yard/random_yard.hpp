// Small yards drawn at random from a seed: ground, covers, soils, storm, limits, drain; and their mirror
// images.
#pragma once
#include <algorithm>
#include <cmath>
#include <optional>
#include <random>

#include <lowspot/base/error.hpp>
#include <lowspot/yard/drain_layout.hpp>

#include "simple_yard.hpp"

struct RandomYard {
  SimpleYard yard;
  std::optional<lowspot::site::Design> design;
  double end = 0; // s
  const lowspot::site::Design* works() const { return design ? &*design : nullptr; }
};

struct YardDice {
  explicit YardDice(unsigned seed) : random(seed) {}
  double between(double low, double high) { return low + (high - low) * share(random); }
  bool chance(double p) { return between(0, 1) < p; }
  double decades(double low, double high) { return std::exp(between(std::log(low), std::log(high))); }
  std::mt19937 random;
  std::uniform_real_distribution<double> share{0, 1};
};

inline lowspot::site::Soil random_soil(YardDice& dice) {
  lowspot::site::Soil soil;
  soil.name = "soil";
  const auto single = [](double value) { return lowspot::site::Band{value, value, value}; };
  soil.depth = single(dice.between(0.1, 0.5));
  soil.conductivity = single(dice.decades(1e-7, 1e-4));
  soil.residual = dice.between(0.01, 0.06);
  soil.wilting_point = soil.residual + dice.between(0.02, 0.1);
  soil.field_capacity = soil.wilting_point + dice.between(0.05, 0.15);
  const double drains = dice.between(0.03, 0.15);
  soil.porosity = soil.field_capacity + drains + dice.between(0, 0.05);
  soil.drainable_porosity = single(drains);
  soil.wetting_front_suction = dice.between(0.02, 0.3);
  soil.pore_size_index = dice.between(0.15, 0.6);
  soil.initial_moisture =
      soil.wilting_point + dice.between(0, 1) * (soil.field_capacity - soil.wilting_point);
  soil.tight_conductivity = single(dice.chance(0.2) ? 0 : dice.decades(1e-10, 1e-6));
  if (dice.chance(0.3)) soil.tight_thickness = dice.between(0.1, 1);
  if (dice.chance(0.3)) soil.perched_start = dice.between(0, 0.9) * soil.depth.likely;
  return soil;
}

inline lowspot::site::Design random_works(YardDice& dice, const SimpleYard& yard) {
  using namespace lowspot;
  site::Design design = simple_drain(yard, dice.between(0.25, 0.7));
  site::Run& run = design.runs[0];
  run.pipe.diameter = dice.between(0.05, 0.12);
  run.pipe.outside_diameter = run.pipe.diameter + 0.01;
  run.fall = dice.chance(0.2) ? 0 : dice.between(0, 0.03);
  run.cap = {"cap", dice.decades(1e-7, 0.1), dice.chance(0.4) ? 0 : dice.between(0.02, 0.1)};
  run.fabric.clogging = dice.decades(1, 300);
  run.stone.forchheimer_b = dice.chance(0.5) ? 0 : 200;
  site::Outlet& outlet = design.outlets[0];
  const double kind = dice.between(0, 4);
  if (kind < 1) {
    outlet.kind = "submerged";
    outlet.level = 0.9 + dice.between(-0.5, 0.1);
  } else if (kind < 2) {
    outlet.kind = "pop-up";
    outlet.opening_head = 0.02;
    outlet.weep = dice.chance(0.5) ? 0.006 : 0;
  } else if (kind < 3) {
    const Point end = run.path.back(); // the well stands inside
    outlet.kind = "dry well";
    outlet.at = run.path.back() = {end.x - 1.5 * yard.ground.grid.cell, end.y};
    outlet.well = {0.4, 2.4, 1.2, 0.4, dice.decades(1e-8, 1e-5)};
  }
  if (dice.chance(0.4)) {
    site::Inlet inlet;
    inlet.name = "inlet";
    inlet.at = {run.path.front().x + 0.3, run.path.front().y + 1.1};
    inlet.grate = {0.3, 0.3, 0.5, 0.5};
    inlet.sump = 0.1;
    inlet.pipe = 0.1;
    inlet.to = run.name;
    design.inlets = {inlet};
  }
  return design;
}

inline RandomYard random_yard(unsigned seed) {
  using namespace lowspot;
  YardDice dice(seed);
  const int nx = static_cast<int>(dice.between(10, 17)), ny = static_cast<int>(dice.between(10, 17));
  const double cell = dice.between(0.3, 1);
  const double slope_x = dice.between(-0.05, 0.05), slope_y = dice.between(-0.05, 0.05);
  const double wave = dice.chance(0.7) ? dice.between(0, 0.1) : 0, long_x = dice.between(0.5, 2),
               long_y = dice.between(0.5, 2);
  const double rough = dice.chance(0.5) ? dice.between(0, 0.05) : 0;
  RandomYard made{simple_yard(nx, ny, cell,
                              [&](double x, double y) {
                                return 1 + slope_x * x + slope_y * y +
                                       wave * std::sin(long_x * x) * std::cos(long_y * y) +
                                       rough * dice.between(-1, 1);
                              }),
                  std::nullopt, 0};
  SimpleYard& yard = made.yard;
  terrain::Ground& ground = yard.ground;
  for (const terrain::Side side :
       {terrain::Side::west, terrain::Side::east, terrain::Side::south, terrain::Side::north})
    if (dice.chance(0.5)) open_side(yard, side);
  yard.site.lawn.impervious = false;
  const double hard = dice.between(0, 1), n_lawn = dice.decades(0.03, 0.3), store = dice.between(0, 0.004);
  const double leaves = dice.chance(0.3) ? dice.between(0, 0.002) : 0;
  const bool patchy = dice.chance(0.5);
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) {
      const std::size_t c = ground.grid.index(i, j);
      const bool paved = i < hard * nx && j < 0.6 * ny;
      ground.pervious[c] = paved ? 0 : patchy ? dice.between(0, 1) : 1;
      ground.manning_n[c] = ground.manning_n_deep[c] = paved ? 0.013 : n_lawn;
      ground.depression_storage[c] = paved ? 0 : store;
      ground.interception[c] = paved ? 0 : leaves;
    }
  if (dice.chance(0.3)) // a wall across, with a gap
    for (int j = 2; j < ny; ++j) ground.crest_x[ground.grid.x_face(nx / 2, j)] = 1.1;
  yard.site.soils = {random_soil(dice)};
  if (dice.chance(0.3)) {
    yard.site.soils.push_back(random_soil(dice));
    for (int& kind : ground.soil) kind = dice.chance(0.5) ? 1 : 0;
  }
  yard.site.storm.reference_et = dice.chance(0.5) ? 0 : dice.between(1e-3, 8e-3) / 86400;
  yard.rain.time = {0};
  yard.rain.intensity.clear();
  const int bursts = dice.chance(0.5) ? 1 : 3;
  for (int k = 0; k < bursts; ++k) {
    yard.rain.time.push_back(yard.rain.time.back() + dice.between(300, 1500));
    yard.rain.intensity.push_back(k == 1 ? 0 : dice.between(5, 150) * 1e-3 / 3600);
  }
  made.end = yard.rain.time.back() + dice.decades(0.5, 48) * 3600;
  if (dice.chance(0.6)) made.design = random_works(dice, yard);
  if (made.design) try { // a drain that comes out of the bumpy ground is refused, so there is none
      yard::resolve_drain(yard.site, *made.design,
                          [&](Point at) { return terrain::elevation_at(ground, at); });
    } catch (const InputError&) {
      made.design.reset();
    }
  return made;
}

// East and west exchanged.
inline RandomYard mirrored(const RandomYard& from) {
  using namespace lowspot;
  RandomYard to = from;
  const terrain::Ground& was = from.yard.ground;
  terrain::Ground& is = to.yard.ground;
  const Grid& grid = was.grid;
  for (int j = 0; j < grid.ny; ++j)
    for (int i = 0; i <= grid.nx; ++i) {
      is.crest_x[grid.x_face(grid.nx - i, j)] = was.crest_x[grid.x_face(i, j)];
      if (i == grid.nx) continue;
      const std::size_t a = grid.index(i, j), b = grid.index(grid.nx - 1 - i, j);
      for (Field terrain::Ground::*field :
           {&terrain::Ground::elevation, &terrain::Ground::pervious, &terrain::Ground::manning_n,
            &terrain::Ground::manning_n_deep, &terrain::Ground::depression_storage,
            &terrain::Ground::interception})
        (is.*field)[b] = (was.*field)[a];
      is.soil[b] = was.soil[a];
    }
  for (terrain::EdgeFace& edge : is.edges) {
    edge.cell = static_cast<int>(grid.index(grid.nx - 1 - grid.column(static_cast<std::size_t>(edge.cell)),
                                            grid.row(static_cast<std::size_t>(edge.cell))));
    if (edge.side == terrain::Side::west)
      edge.side = edge.compass = terrain::Side::east;
    else if (edge.side == terrain::Side::east)
      edge.side = edge.compass = terrain::Side::west;
  }
  const double width = grid.nx * grid.cell;
  if (to.design) {
    for (site::Run& run : to.design->runs)
      for (Point& point : run.path) point.x = width - point.x;
    for (site::Outlet& outlet : to.design->outlets) outlet.at.x = width - outlet.at.x;
    for (site::Inlet& inlet : to.design->inlets) inlet.at.x = width - inlet.at.x;
  }
  return to;
}
