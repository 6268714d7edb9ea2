// A yard made in code: half an hour of rain on a paved plane, beside the kinematic wave (Henderson and
// Wooding, 1964).
#include <cmath>
#include <cstdio>
#include <limits>
#include <lowspot/yard/yard.hpp>

using namespace lowspot;

struct Watch : yard::Observer {
  double over_south = 0; // m3/s in the last step
  void step_done(const yard::Yard&, const yard::StepFlows& flows) override {
    over_south = flows.side_volume[static_cast<int>(terrain::Side::south)] / flows.dt;
  }
};

int main() {
  const double length = 30, slope = 0.02, n = 0.05, rain = 50e-3 / 3600; // m, m/m, s/m^(1/3), m/s
  site::Site site;
  site.soils.resize(1); // every cell has a soil, also one that takes no water in
  site.soils[0].depth = {0.2, 0.2, 0.2};
  site.soils[0].conductivity = site.soils[0].tight_conductivity = {1e-8, 1e-8, 1e-8};
  site.soils[0].porosity = 0.45, site.soils[0].field_capacity = 0.3, site.soils[0].initial_moisture = 0.3;
  site.soils[0].wilting_point = 0.15, site.soils[0].residual = 0.05, site.soils[0].pore_size_index = 0.2;
  site.soils[0].wetting_front_suction = 0.2, site.soils[0].drainable_porosity = {0.05, 0.05, 0.05};
  terrain::Ground ground;
  ground.grid = {4, 120, 0.25, 0, 0}; // 1 m by 30 m
  const Field zero(ground.grid.cells(), 0.0);
  ground.active.assign(zero.size(), 1);
  ground.elevation = ground.manning_n = ground.manning_n_deep = zero;
  ground.vegetation_height = ground.depression_storage = ground.interception = ground.pervious = zero;
  ground.soil.assign(zero.size(), 0);
  ground.cover.assign(zero.size(), -1);
  for (std::size_t c = 0; c < zero.size(); ++c) {
    ground.elevation[c] = 10 + slope * ground.grid.y(ground.grid.row(c));
    ground.manning_n[c] = ground.manning_n_deep[c] = n;
  }
  ground.crest_x.assign(ground.grid.x_faces(), -std::numeric_limits<double>::infinity());
  ground.crest_y.assign(ground.grid.y_faces(), -std::numeric_limits<double>::infinity());
  for (int i = 0; i < ground.grid.nx; ++i) // elsewhere walls
    ground.edges.push_back({i, terrain::Side::south, true, terrain::Side::south});
  const rain::Hyetograph storm{{0, 1800}, {rain}, {}};
  yard::Yard yard(site, ground, storm, nullptr); // which looks on at all three
  Watch watch;
  const double alpha = std::sqrt(slope) / n;
  double worst = 0;
  for (const double t : {180.0, 300.0, 420.0, 600.0, 1800.0}) {
    yard.advance(t, &watch);
    const double exact = std::min(alpha * std::pow(rain * t, 5.0 / 3), rain * length);
    worst = std::max(worst, std::abs(watch.over_south / exact - 1));
    std::printf("%4.0f s: %.3f L/s, kinematic wave %.3f L/s\n", t, watch.over_south * 1e3, exact * 1e3);
  }
  const std::size_t foot = ground.grid.index(1, 0);
  const double deep = std::pow(rain * (length - ground.grid.y(0)) / alpha, 0.6);
  std::printf("at the foot %.2f mm deep, kinematic wave %.2f mm\n", yard.depth()[foot] * 1e3, deep * 1e3);
  const Ledger& books = yard.ledger();
  std::printf("rain %.4f m3: over the edge %.4f m3, on the plane %.4f m3\n", yard.rain_volume(),
              books.received(Store::edges), books.balance(Store::surface));
  const bool closed =
      std::abs(yard.rain_volume() - books.received(Store::edges) - books.balance(Store::surface)) < 1e-9;
  return closed && worst < 0.02 && std::abs(yard.depth()[foot] / deep - 1) < 0.01 ? 0 : 1;
}
