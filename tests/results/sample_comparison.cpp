#include "results/sample_comparison.hpp"

#include <algorithm>
#include <cmath>
#include <string>

namespace sample {
namespace {

// Rest of the depth of the bowl at its deepest [m], t hours into the run, falling by `rate` [m/h] after the
// rain.
double bowl_level(double t, double peak, double rate) {
  if (t <= rain_hours) return peak * std::pow(t / rain_hours, 1.5);
  return std::max(0.0, peak - rate * (t - rain_hours));
}

// How far the ground lies above the bottom of the bowl [m].
double above_bottom(double x, double y) {
  const double dx = (x - 24 * foot) / (13 * foot);
  const double dy = (y - 15 * foot) / (6 * foot);
  return 0.07 * (dx * dx + dy * dy);
}

void add_maps(DesignRecord& design, const Comparison& all, double peak, double rate) {
  const Grid& g = all.grid;
  for (Field* map : {&design.max_depth, &design.standing_hours, &design.standing_hours_total,
                     &design.soggy_hours, &design.perched_max})
    map->assign(g.cells(), 0.0);
  for (std::size_t cell = 0; cell < g.cells(); ++cell) {
    if (!all.active[cell]) continue;
    const double above = above_bottom(g.x(g.column(cell)), g.y(g.row(cell)));
    design.max_depth[cell] = std::max(0.0, peak - above);
    const double over = design.max_depth[cell] - all.standing_depth;
    design.standing_hours[cell] = over > 0 ? std::min(over / rate, end_hours - rain_hours) : 0;
    design.standing_hours_total[cell] = over > 0 ? design.standing_hours[cell] + 3 : 0;
    design.soggy_hours[cell] = 2 * design.standing_hours_total[cell];
    design.perched_max[cell] = 0.1;
  }
  for (double t = 0; t <= end_hours; t += t < 12 ? 1 : 6) {
    Frame frame;
    frame.time = t * hour;
    const double level = bowl_level(t, peak, rate);
    for (std::size_t cell = 0; cell < g.cells(); ++cell) {
      const double above = above_bottom(g.x(g.column(cell)), g.y(g.row(cell)));
      frame.depth.push_back(all.active[cell] ? static_cast<float>(std::max(0.0, level - above)) : 0.f);
      frame.perched.push_back(0.05f);
      frame.root_moisture.push_back(0.35f);
    }
    design.frames.push_back(std::move(frame));
  }
}

void add_series(DesignRecord& design, double peak, double rate, double edge_peak, double drain_peak) {
  Series edges{"edges_m3_per_s", {}}, gauge{"gauge:bed corner_m", {}}, bed{"bed:long bed:depletion_m", {}};
  Series outlet{"drain:fence outlet_m3_per_s", {}};
  Series share{"bed:long bed:available_share", {}};
  for (double t = 0; t <= end_hours; t += t < 12 ? 0.25 : 1) {
    design.time.push_back(t * hour);
    const double pulse = t * t * std::exp(-1.2 * std::pow(std::max(0.0, t - 1) / 3.0, 2));
    edges.values.push_back(edge_peak * pulse / 6);
    outlet.values.push_back(drain_peak * (t < 6 ? t / 6 : std::exp(-(t - 6) / 5)));
    gauge.values.push_back(bowl_level(t, peak, rate));
    bed.values.push_back(t < 30 ? 0 : 0.00018 * (t - 30));
    share.values.push_back(t < 6 ? 1 + 0.1 * t : std::max(0.4, 1.6 - 0.01 * (t - 6)));
  }
  design.series = {edges, gauge, bed, share};
  if (drain_peak > 0) design.series.push_back(outlet);
}

void add_figures(DesignRecord& design, double peak, double rate) {
  const double hours = (peak - 0.00635) / rate;
  const bool clear = hours <= 24;
  design.areas = {{"patio", peak * 0.5, 0.08, 0.3 * hours, 6.0, 2.0, true, true, false},
                  {"long bed", peak, 0.5, hours, 13.5, 1.6 * hours, clear, true, false},
                  {"lawn", 0.02, 0.1, 3, 9.0, 12.0, true, false, false}};
  design.gauges = {{"bed corner", peak, 6 * hour, hours}};
  design.edges = {{"south", 0.0011, 6.2}, {"east", 0.0004, 2.1}};
  design.lines = {{"fence", 0.0011, 6.0}};
  design.beds = {{"long bed", 1.6 * hours, 1.25, 0.43}};
  BedRecord& bed = design.beds.front();
  bed.longest_soggy_hours = 1.4 * hours;
  bed.plants = "shrubs";
  bed.wet_feet_low_hours = 48;
  bed.wet_feet_high_hours = 168;
  bed.area = 13.9;
  bed.soggy_share = 1.35;
  bed.budget = {0.06, 0.0004 * hours, 0.003, 0, 0.015, 0.02, 0.028 + 0.0004 * hours};
  for (AreaRecord& area : design.areas) {
    area.soggy_hours_after_rain = 1.8 * hours;
    area.perched_max = 0.1;
  }
  design.areas[0].under_slab = true;
  design.ledger = {14.7, 0, 8.3, 0.2, 0, 0.4, 1.1, 5.0, 20.0, 24.9, 1.2e-13};
  design.steps = 5210;
  design.wall_seconds = 0.8;
}

void add_drain(DesignRecord& design) {
  design.ledger.left_by_drains = 2.3;
  design.ledger.left_over_edges = 6.0;
  design.drains = {{"west leg", 0.0007, 0.0017, 0, 2.3, "cap", {{"cap", 20}, {"stone", 2}}},
                   {"carrier", 0.0007, 0.0021, 0, 2.3, "nothing", {}}};
  RunProfileRecord leg;
  leg.run = "west leg";
  leg.path = {{12 * foot, 16 * foot}, {24 * foot, 16 * foot}};
  leg.diameter = 0.0762;
  RunProfileRecord carrier;
  carrier.run = "carrier";
  carrier.path = {{24 * foot, 16 * foot}, {24 * foot, 0}};
  carrier.diameter = 0.0762;
  for (int k = 0; k <= 8; ++k) {
    const double s = k / 8.0;
    leg.distance.push_back(12 * foot * s);
    leg.ground.push_back(30.66 - 0.03 * s);
    leg.invert.push_back(30.20 - 0.038 * s);
    leg.stone_top.push_back(30.60 - 0.03 * s);
    leg.trench_bottom.push_back(30.15 - 0.038 * s);
    leg.highest_water.push_back(30.36 - 0.05 * s);
    carrier.distance.push_back(16 * foot * s);
    carrier.ground.push_back(30.63 - 0.13 * s);
    carrier.invert.push_back(30.162 - 0.0975 * s);
    carrier.highest_water.push_back(30.21 - 0.10 * s);
  }
  design.profiles = {leg, carrier};
}

} // namespace

Grid grid() {
  return {60, 40, foot, 0, 0};
}

Comparison yard() {
  Comparison all;
  all.version = "0.1.0";
  all.site_name = "Sample back yard";
  all.units = "ft";
  all.grid = grid();
  const Grid& g = all.grid;
  all.elevation.resize(g.cells());
  all.cover.assign(g.cells(), -1);
  all.active.assign(g.cells(), 1);
  for (int j = 0; j < g.ny; ++j)
    for (int i = 0; i < g.nx; ++i) {
      const double x = g.x(i) / foot, y = g.y(j) / foot;
      const std::size_t cell = g.index(i, j);
      all.elevation[cell] = 30.5 + std::min(0.004 * y, 0.004 * 15 + above_bottom(g.x(i), g.y(j)) * 0.5) +
                            0.01 * std::sin(x / 9.0) * std::cos(y / 7.0) + 0.006 * y;
      if (x > 10 && x < 34 && y > 18 && y < 34) all.cover[cell] = 0;
      if (x > 10 && x < 40 && y > 13 && y < 18) all.cover[cell] = 1;
      if (x > 8 && x < 46 && y > 34) all.active[cell] = 0;
    }
  all.cover_names = {"patio", "long bed"};
  all.warnings = {"The topsoil depth is a guess: dig one hole at the patio corner."};
  all.defaults = {{"soil.yard.topsoil.depth", "7 in", "measured"},
                  {"soil.yard.tight_layer.conductivity", "0.02 in/hr", "default"},
                  {"storm.pattern", "nested", "said"}};
  all.storm_depth = 2.6 * 0.0254;
  all.storm_duration = all.end_of_rain = rain_hours * hour;
  all.rain_time = {0, 2 * hour, 3 * hour, 4 * hour, 6 * hour};
  const double mean = all.storm_depth / (6 * hour);
  all.rain_intensity = {0.6 * mean, mean, 2.6 * mean, 0.6 * mean, 0};
  all.storm_peak_intensity = 2.6 * mean;
  all.standing_depth = 0.25 * 0.0254;
  all.clear_within = 24 * hour;
  terrain::LowSpot spot;
  spot.id = 1;
  spot.at = {24 * foot, 15 * foot};
  spot.depth = 0.06;
  spot.area = 21;
  spot.volume = 0.55;
  spot.spill_at = {38 * foot, 8 * foot};
  spot.catchment = 120;
  spot.rain_to_fill = 0.0046;
  all.low_spots = {spot};
  return all;
}

Comparison comparison() {
  Comparison all = yard();
  const double peak = 0.06;
  for (const bool drained : {false, true}) {
    DesignRecord design;
    design.name = drained ? "3 in along the patio" : "as is";
    const double rate = drained ? 0.0069 : 0.00113;
    const double top = drained ? 0.045 : peak;
    add_maps(design, all, top, rate);
    add_series(design, top, rate, drained ? 0.0004 : 0.0006, drained ? 0.0007 : 0);
    add_figures(design, top, rate);
    if (drained) add_drain(design);
    all.designs.push_back(std::move(design));
  }
  all.verdict = {
      "3 in along the patio", true, "cap",
      "3-inch is enough: it runs 40 % full at the peak. What limits it is the sod over the stone, not the "
      "pipe. The long bed stands 48 hours as it is and 6 hours with the drain."};
  return all;
}

} // namespace sample
