#include <lowspot/drain/run_losses.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/drain/cap.hpp>

namespace lowspot::drain {

namespace {

constexpr double standing = 1e-3; // m of water on the trench that counts as standing there
constexpr double waiting = 5e-3;  // m of head over the fabric that counts as held back by it

// Head that water from the soil loses in the fabric of both walls [m], by Darcy's law over the height of wall
// that it passes. Where that is not known, it is the mean of the levels on both sides of the fabric:
// Q = k L (H^2 - h^2), k its permittivity as clogged, h the level in the stone (Dupuit 1863).
double fabric_loss(const Run& run, double length, double stone, double from_soil, double wall) {
  const double conductance = length * run.fabric.permittivity / std::max(run.fabric.clogging, 1e-9);
  if (wall > 0) return from_soil / (2 * conductance * wall);
  return std::sqrt(stone * stone + from_soil / conductance) - stone;
}

void stone_losses(const Run& run, const Station& station, const StoneStore& stone, double level,
                  double ponded, double through_cap, double from_soil, double soil_wall, HeadLosses& losses) {
  const double depth = stone.top - stone.bottom;
  if (level > stone.bottom + 0.5 * depth) losses.under_stress = true;
  if (ponded > standing) {
    losses.under_stress = true;
    // By Darcy's law for what passes: over full stone that is less than the head there is, and what follows
    // the stone holds the water back.
    const double head = std::max(0.0, station.ground + ponded - std::max(level, stone.top));
    const double conductance = station.open * cap_conductance(run, station);
    const double spent = conductance > 0 ? std::min(head, through_cap / conductance) : head;
    losses.cap = std::max(losses.cap, spent);
  }
  if (from_soil > 0 && run.fabric.permittivity > 0) {
    const double inside = std::clamp(level - stone.bottom, 0.0, depth);
    losses.fabric = std::max(losses.fabric, fabric_loss(run, station.length, inside, from_soil, soil_wall));
    // Water waits in the soil, however empty the stone.
    if (losses.fabric > waiting) losses.under_stress = true;
  }
}

// Loss along the stone where water runs in it from station to station towards the foot.
double loss_along_stone(const Network& network, std::span<const double> level, int first, int last) {
  double loss = 0;
  for (int i = first; i < last; ++i) {
    const StoneStore& a = network.stones[network.stone_of[i]];
    const StoneStore& b = network.stones[network.stone_of[i + 1]];
    if (level[a.unknown] <= a.bottom || level[b.unknown] <= b.bottom) continue;
    const double fall = std::max(0.0, a.bottom - b.bottom);
    loss += std::max(0.0, level[a.unknown] - level[b.unknown] - fall);
  }
  return loss;
}

double at_outlet(const Network& network, std::span<const double> level, const Flows& flows, int run) {
  for (std::size_t k = 0; k < network.free_ends.size(); ++k) {
    const FreeEnd& end = network.free_ends[k];
    if (end.section != run) continue;
    const Section& section = network.sections[run];
    const double critical = critical_depth(section.diameter, flows.free_ends[k]);
    const double normal =
        normal_depth(section.diameter, section.manning_n, std::max(end.bed_slope, 1e-9), flows.free_ends[k]);
    return std::max(0.0, level[end.unknown] - end.invert - std::min(critical, normal));
  }
  return 0;
}

// A dry well or a pump's basin that stands above the foot of the run drowns it.
double at_vessel(const Layout& layout, const Network& network, std::span<const double> level, int run) {
  const int foot = network.connections.runs[run].foot;
  const int outlet = foot - static_cast<int>(layout.fittings.size());
  if (outlet < 0 || outlet >= static_cast<int>(layout.outlets.size())) return 0;
  const OutletKind kind = layout.outlets[outlet].kind;
  if (kind != OutletKind::dry_well && kind != OutletKind::pump) return 0;
  const double crown = foot_invert(layout.runs[run]) + layout.runs[run].pipe.diameter;
  return std::max(0.0, level[network.places[foot].unknown] - crown);
}

} // namespace

HeadLosses losses_of(const Layout& layout, const Network& network, std::span<const double> level,
                     const Flows& flows, const RunLoads& loads, int run) {
  HeadLosses losses;
  const Run& figures = layout.runs[run];
  const int first = network.first_station[run], last = network.first_station[run + 1] - 1;
  for (int i = first; i <= last; ++i) {
    const Station& station = network.stations[i];
    const int s = network.stone_of[i], p = network.pipe_of[i];
    if (s >= 0)
      stone_losses(figures, station, network.stones[s], level[network.stones[s].unknown], loads.ponded[i],
                   loads.through_cap[i], loads.from_soil[i], loads.soil_wall[i], losses);
    if (p < 0) continue;
    const double grade = level[network.pipes[p].unknown];
    const double crown = station.invert + figures.pipe.diameter;
    if (grade >= crown) {
      losses.under_stress = true;
      losses.pipe = std::max(losses.pipe, grade - crown);
    }
    if (s < 0) continue;
    const double stone = level[network.stones[s].unknown];
    losses.slots = std::max(losses.slots, stone - std::max(grade, station.invert));
  }
  if (figures.has_trench) losses.stone = loss_along_stone(network, level, first, last);
  losses.outlet = at_outlet(network, level, flows, run) + at_vessel(layout, network, level, run);
  // Pressure above the crown that the foot already holds is not lost in this run's pipe: it belongs to what
  // follows.
  const int foot = network.connections.runs[run].foot;
  if (losses.pipe > 0 && foot >= 0) {
    const double held = level[network.places[foot].unknown] - (foot_invert(figures) + figures.pipe.diameter);
    losses.pipe = std::max(0.0, losses.pipe - std::max(0.0, held));
  }
  return losses;
}

} // namespace lowspot::drain
