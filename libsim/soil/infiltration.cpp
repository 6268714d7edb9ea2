// Capacity of the columns: where the innermost front stands, what lies ahead of it, and the Green-Ampt law
// over dt.
#include <algorithm>
#include <limits>

#include <lowspot/soil/column.hpp>
#include <lowspot/soil/crust.hpp>
#include <lowspot/soil/green_ampt.hpp>
#include <lowspot/soil/zone.hpp>

namespace lowspot::soil {
namespace {

// A saturated front in soil of one deficit up to `limit` [m of water], and of another beyond. Deficits are
// porosity less the content ahead; infiltrated = depth * deficit in either.
struct Path {
  double infiltrated = 0;
  double deficit = 0;
  double limit = std::numeric_limits<double>::infinity();
  double next_infiltrated = 0; // on passing the limit
  double next_deficit = 0;
};

// Deficit ahead of a front that has come down to `depth`: the roots' share lies between there and the lowest
// root.
double deficit_below(const Zone& zone, double depth) {
  const double span = zone.roots() - depth;
  const double dryness = zone.root_deficit > 0 && span > 0 ? zone.root_deficit / span : 0;
  return zone.soil->porosity - zone.background + dryness;
}

Path path_of(const Zone& zone) {
  const double porosity = zone.soil->porosity;
  const double depth = zone.front_depth();
  Path path;
  if (zone.front <= 0 || zone.front_saturated()) {
    path.deficit = deficit_below(zone, depth);
    path.infiltrated = depth * path.deficit;
    if (zone.root_deficit > 0 && zone.roots() > depth) {
      path.limit = zone.roots() * path.deficit;
      path.next_deficit = porosity - zone.background;
      path.next_infiltrated = zone.roots() * path.next_deficit;
    }
    return path;
  }
  // A new or second front runs through what the first one left; beyond it lies the background.
  double content = zone.front_content;
  if (zone.second > 0) {
    if (zone.second_saturated()) {
      path.infiltrated = zone.second;
    } else {
      content = std::min(porosity, zone.background + (zone.front + zone.second) / depth);
    }
  }
  path.deficit = porosity - content;
  path.limit = path.deficit * depth;
  path.next_deficit = deficit_below(zone, depth);
  path.next_infiltrated = depth * path.next_deficit;
  return path;
}

// The same per area of the share of the ground that is open: what went in there has gone straight down.
Path under_open(Path path, double open) {
  path.infiltrated /= open;
  path.limit /= open;
  path.next_infiltrated /= open;
  return path;
}

// K, and the head that drives the front: suction and ponded water; a crust adds its thickness and takes off
// the soil that it stands for.
struct Law {
  double conductivity = 0;
  double head = 0;
  double crust = 0; // thickness of soil with the crust's resistance [m]
};

// What goes in over dt while water stands on the ground, from F = path.infiltrated + already [m].
double ponded_gain(const Path& path, double already, const Law& law, double dt) {
  const double start = path.infiltrated + already;
  // The crust counts as soil behind the front: as much more infiltrated as that soil would hold.
  const double crust = law.crust * path.deficit, next_crust = law.crust * path.next_deficit;
  const double next_drive = law.head * path.next_deficit;
  if (start >= path.limit) {
    const double beyond = path.next_infiltrated + start - path.limit;
    return infiltrated_while_ponded(law.conductivity, next_drive, next_crust + beyond, dt);
  }
  const double drive = law.head * path.deficit;
  const double gain = infiltrated_while_ponded(law.conductivity, drive, crust + start, dt);
  if (start + gain <= path.limit) return gain;
  const double left = dt - ponded_time_between(law.conductivity, drive, crust + start, crust + path.limit);
  return path.limit - start +
         infiltrated_while_ponded(law.conductivity, next_drive, next_crust + path.next_infiltrated,
                                  std::max(0.0, left));
}

// Most that goes in over dt [m]. With no more than a film on the ground, the film and then the supply enter
// as they come until the rate of the law falls to the supply: only from then on does the law limit.
double most_over(const Path& path, const Law& law, double ponded, double supply, double dt) {
  if (law.conductivity <= 0) return 0;
  if (supply > law.conductivity && path.infiltrated < path.limit) {
    const double at_ponding =
        infiltrated_at_ponding(law.conductivity, law.head * path.deficit, supply) - law.crust * path.deficit;
    const double start = path.infiltrated + ponded;
    if (start < at_ponding && at_ponding <= path.limit && start + supply * dt > at_ponding) {
      const double before = at_ponding - path.infiltrated;
      const double left = dt - (at_ponding - start) / supply;
      const double gain = before + ponded_gain(path, before, law, left);
      return ponded > 0 ? std::min(gain, ponded_gain(path, 0, law, dt)) : gain;
    }
  }
  return ponded_gain(path, 0, law, dt);
}

// Darcy's law through a saturated column with its crust, free to drain at its foot [m/s].
double rate_when_full(const Parameters& soil, double depth, double ponded) {
  const double crust = has_crust(soil) ? soil.crust_thickness : 0;
  if (soil.conductivity <= 0 || (crust > 0 && soil.crust_conductivity <= 0)) return 0;
  const double resistance = depth / soil.conductivity + (crust > 0 ? crust / soil.crust_conductivity : 0);
  return (ponded + crust + depth) / resistance;
}

// What goes into a column that has been full since water came to stand on it, and from which water goes
// sideways, to a trench say. drawn: how far the head of that flow lies below the ground [m]; sinking: what
// leaves below [m/s]. A flow that comes in from above and has all turned sideways at the base loses, in the
// mean over the height, a third of what it would lose going straight down (Dupuit's flow with its vertical
// part put back). At most what a column free to drain at its foot passes goes in. Ponded ground then gives an
// open wall 0.84 K D a metre. Laplace's equation gives 8 G / pi^2 K D = 0.742 K D, G being Catalan's number
// (by series: head D along the ground, y up the wall, nothing through the base).
constexpr double turning = 3;

double rate_when_sealed(const Parameters& soil, double depth, double ponded, double drawn, double sinking) {
  const double straight = rate_when_full(soil, depth, ponded);
  if (straight <= 0) return 0;
  const double crust = has_crust(soil) ? soil.crust_thickness / soil.crust_conductivity : 0;
  return std::min(straight, sinking + (ponded + drawn) / (depth / (turning * soil.conductivity) + crust));
}

} // namespace

void infiltration_capacity(const Columns& columns, std::span<const double> saturated,
                           std::span<const double> ponded, std::span<const double> supply, double dt,
                           std::span<double> capacity, const Meanwhile& meanwhile) {
  const std::size_t n = columns.active.size();
  for (std::size_t cell = 0; cell < n; ++cell) {
    capacity[cell] = 0;
    if (!columns.active[cell]) continue;
    const double standing = std::max(0.0, ponded[cell]), open = columns.open[cell];
    if (open <= 0 || (!meanwhile.dry_ground && standing <= 0 && supply[cell] <= 0)) continue;
    const Zone zone = take_zone(columns, cell, saturated[cell]);
    const double leaving = meanwhile.leaving.empty() ? 0.0 : meanwhile.leaving[cell] / open;
    const double room = zone.free_space() / open + leaving * dt;
    if (room <= 0) continue;
    if (!meanwhile.sealed.empty() && meanwhile.sealed[cell]) {
      const double sinking = meanwhile.sinking.empty() ? 0.0 : meanwhile.sinking[cell] / open;
      capacity[cell] =
          std::min(room / dt, rate_when_sealed(*zone.soil, zone.depth, standing, zone.thickness, sinking));
      continue;
    }
    if (zone.thickness <= 0) {
      capacity[cell] = std::min(leaving, rate_when_full(*zone.soil, zone.depth, standing));
      continue;
    }
    const Parameters& soil = *zone.soil;
    const double pressing = columns.ponded_head ? standing : 0;
    Law law{soil.conductivity, soil.wetting_front_suction + pressing, 0};
    if (has_crust(soil)) {
      if (crust_limits(soil, pressing)) {
        capacity[cell] = std::min(rate_through_crust(soil, pressing), room / dt);
        continue;
      }
      law.crust = crust_as_soil(soil);
      law.head += soil.crust_thickness - law.crust;
    }
    const Path path = under_open(path_of(zone), open);
    capacity[cell] = std::min(most_over(path, law, standing / open, supply[cell] / open, dt), room) / dt;
  }
}

} // namespace lowspot::soil
