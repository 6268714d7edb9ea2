#include <lowspot/study/hose_test.hpp>

#include <algorithm>
#include <cmath>
#include <numeric>

#include <lowspot/base/error.hpp>
#include <lowspot/study/hose_words.hpp>
#include <lowspot/study/side_by_side.hpp>
#include <lowspot/terrain/low_spots.hpp>
#include <lowspot/terrain/reshape.hpp>
#include <lowspot/yard/yard.hpp>

namespace lowspot::study {
namespace {

constexpr double patch = 0.3;          // m: a hose wets about a square foot
constexpr double noticed = 0.01;       // share of the hose's flow that someone at the outlet sees
constexpr double unchanged = 0.02;     // share by which a steady flow may still change
constexpr std::size_t most_cycles = 3; // of a pump that the mean is taken over
constexpr double close_look = 5;       // s between looks while the hose runs and just after
constexpr double minute = 60, hour = 3600;

std::vector<int> cells_around(const terrain::Ground& ground, const Point& at) {
  const Grid& grid = ground.grid;
  std::vector<int> cells;
  for (std::size_t c = 0; c < grid.cells(); ++c) {
    const double dx = std::abs(grid.x(grid.column(c)) - at.x), dy = std::abs(grid.y(grid.row(c)) - at.y);
    if (ground.active[c] && std::max(dx, dy) <= patch / 2) cells.push_back(static_cast<int>(c));
  }
  if (const long middle = cell_at(grid, at.x, at.y); cells.empty() && middle >= 0 && ground.active[middle])
    cells.push_back(static_cast<int>(middle));
  return cells;
}

bool is_well(const drain::Outlet& outlet) {
  return outlet.kind == drain::OutletKind::pump || outlet.kind == drain::OutletKind::dry_well;
}

// Water in pits and basins [m3].
double in_wells(const drain::Drain& drain) {
  double sum = 0;
  for (std::size_t k = 0; k < drain.layout().outlets.size(); ++k)
    if (is_well(drain.layout().outlets[k])) sum += drain.outlet_stored(static_cast<int>(k));
  return sum;
}

// What the weep hole of each pop-up lets out while the lid is shut, at most [m3/s]; once it is open the hole
// gives as much, and the lid the rest.
std::vector<double> weep_capacities(const drain::Drain& drain) {
  constexpr double coefficient = 0.61, gravity = 9.81; // as the drain has it
  std::vector<double> most;
  for (std::size_t k = 0; k < drain.layout().outlets.size(); ++k) {
    const drain::Outlet& outlet = drain.layout().outlets[k];
    const double lifts_at = drain.outlet_rim(static_cast<int>(k)) + outlet.opening_head;
    double hole = lifts_at;
    for (const drain::Run& run : drain.layout().runs)
      if (run.to == outlet.name)
        hole = std::min(hole, run.inverts.back() - (run.pipe.diameter > 0 ? 0 : run.bedding));
    const bool weeps = outlet.kind == drain::OutletKind::pop_up && outlet.weep_area > 0;
    most.push_back(weeps ? coefficient * outlet.weep_area * std::sqrt(2 * gravity * (lifts_at - hole)) : 0);
  }
  return most;
}

// Follows one run of the yard.
struct Watch : yard::Observer {
  Watch(HoseTest& test_, double standing_, int cell_) : test(test_), standing(standing_), cell(cell_) {}

  void step_done(const yard::Yard& yard, const yard::StepFlows& flows) override {
    out += std::accumulate(flows.outlets.begin(), flows.outlets.end(), 0.0);
    double flow = 0, weep = 0; // m3/s that are seen, and that are not
    for (std::size_t k = 0; k < flows.outlets.size() && k < test.outlets.size(); ++k) {
      HoseOutlet& outlet = test.outlets[k];
      outlet.volume += flows.outlets[k];
      const double all = flows.outlets[k] / flows.dt, hidden = std::min(all, weep_capacity[k]);
      flow += all - hidden;
      weep += hidden;
      if (std::isnan(outlet.first_water) && all - hidden >= noticed * test.flow)
        outlet.first_water = flows.start;
    }
    test.through_weeps += weep * flows.dt;
    if (std::isnan(test.weep_first) && weep >= noticed * test.flow) test.weep_first = flows.start;
    if (weep >= noticed * test.flow) last_weeping = yard.time();
    test.deepest = std::max(test.deepest, yard.depth()[cell]);
    if (std::isnan(test.first_water) && flow >= noticed * test.flow) {
      test.first_water = flows.start;
      test.held_at_first_water = in_drain_before - in_drain_at_start;
    }
    in_drain_before = yard.drain()->stored();
    look_at_wells(*yard.drain());
    if (yard.time() > test.duration) {
      if (flow >= noticed * test.flow) last_running = yard.time();
      const std::span<const double> depth = yard.depth();
      if (std::any_of(depth.begin(), depth.end(), [&](double h) { return h > standing; }))
        last_puddle = yard.time();
    }
    test.time.push_back(yard.time());
    test.outlet_flow.push_back(flow);
    test.weep_flow.push_back(weep);
  }

  // The pit or basin that fills highest.
  void look_at_wells(const drain::Drain& drain) {
    for (std::size_t k = 0; k < drain.layout().outlets.size(); ++k) {
      const drain::Outlet& outlet = drain.layout().outlets[k];
      if (!is_well(outlet)) continue;
      const double depth = drain.outlet_level(static_cast<int>(k)) - outlet.chamber.bottom;
      if (depth < test.well_depth || (!test.well.empty() && depth == test.well_depth)) continue;
      test.well = outlet.name;
      test.well_depth = depth;
    }
  }

  HoseTest& test;
  double standing;
  int cell;
  double in_drain_at_start = 0;
  double in_drain_before = 0;               // m3 at the start of the step
  double out = 0;                           // m3 by the outlets
  double last_running = 0, last_puddle = 0; // s, 0: never after the hose was shut
  double last_weeping = 0;                  // s, 0: never
  std::vector<double> weep_capacity;        // m3/s, of each outlet
};

// Mean outlet flow between two times [m3/s]; flows hold over the step that ends at their time.
double mean_flow(const HoseTest& test, double from, double to) {
  double volume = 0, before = 0;
  for (std::size_t k = 0; k < test.time.size(); ++k) {
    const double part = std::min(to, test.time[k]) - std::max(from, before);
    if (part > 0) volume += part * test.outlet_flow[k];
    before = test.time[k];
  }
  return volume / (to - from);
}

// When water began to come out while the hose ran [s].
std::vector<double> starts_of_flow(const HoseTest& test) {
  std::vector<double> starts;
  double before = 0, flow_before = 0;
  for (std::size_t k = 0; k < test.time.size() && before < test.duration; ++k) {
    if (test.outlet_flow[k] >= noticed * test.flow && flow_before < noticed * test.flow)
      starts.push_back(before);
    before = test.time[k], flow_before = test.outlet_flow[k];
  }
  return starts;
}

// What comes out in the end: of a pump that starts and stops the mean over its last whole cycles, else that
// of the last tenth of the time the hose runs.
void last_flow(const site::Design& design, HoseTest& test) {
  const bool pumped = std::any_of(design.outlets.begin(), design.outlets.end(),
                                  [](const site::Outlet& each) { return each.kind == "pump"; });
  if (pumped) {
    const std::vector<double> starts = starts_of_flow(test);
    test.cycles = static_cast<int>(starts.size());
    if (starts.size() > 1) {
      const std::size_t first = starts.size() - 1 - std::min<std::size_t>(most_cycles, starts.size() - 1);
      test.last_flow = mean_flow(test, starts[first], starts.back());
      return;
    }
  }
  const double tenth = 0.1 * test.duration;
  test.last_flow = mean_flow(test, test.duration - tenth, test.duration);
  const double earlier = mean_flow(test, test.duration - 2 * tenth, test.duration - tenth);
  test.steady = test.last_flow >= noticed * test.flow &&
                std::abs(test.last_flow - earlier) <= unchanged * test.last_flow;
}

// Nothing comes in but the water of the hose: what the site file lets in from beyond its limits belongs to
// its storm.
site::Site without_inflow(const site::Site& site) {
  site::Site closed = site;
  closed.edges.inflows.clear();
  closed.edges.seeps.clear();
  return closed;
}

// What a pipe that ends at an outlet carries when it is full [m3/s].
double outlet_capacity(const drain::Drain& drain, const site::Design& design) {
  double most = 0;
  for (std::size_t r = 0; r < design.runs.size(); ++r)
    for (const site::Outlet& outlet : design.outlets)
      if (outlet.name == design.runs[r].to)
        most = std::max(most, drain.full_flow_capacity(static_cast<int>(r)));
  return most;
}

} // namespace

int lowest_judged_cell(const site::Site& site, const terrain::Ground& ground, std::string& place) {
  const std::vector<terrain::LowSpot> spots = terrain::find_low_spots(ground);
  const auto judged = [&](int cell) {
    const int area = ground.cover[cell];
    if (site.target.areas.empty()) return true;
    return area >= 0 && std::find(site.target.areas.begin(), site.target.areas.end(),
                                  site.areas[area].name) != site.target.areas.end();
  };
  int best = -1;
  double most = -1;
  for (const terrain::LowSpot& spot : spots) {
    double volume = 0;
    int lowest = -1;
    for (const int cell : spot.cells) {
      if (!judged(cell)) continue;
      volume += spot.spill_level - ground.elevation[cell];
      if (lowest < 0 || ground.elevation[cell] < ground.elevation[lowest]) lowest = cell;
    }
    if (lowest < 0 || volume <= most) continue;
    most = volume;
    best = lowest;
    place = "the lowest point of low spot " + std::to_string(spot.id);
  }
  if (best >= 0) return best;
  place = "the lowest ground that is judged";
  for (std::size_t c = 0; c < ground.grid.cells(); ++c)
    if (ground.active[c] && judged(static_cast<int>(c)) &&
        (best < 0 || ground.elevation[c] < ground.elevation[best]))
      best = static_cast<int>(c);
  return best;
}

// Where the drain takes in water that is on the ground: a hose elsewhere tells nothing of it.
Point first_place(const site::Site& site, const terrain::Ground& ground, const site::Design& design,
                  HoseTest& test) {
  const bool slotted = std::any_of(design.runs.begin(), design.runs.end(), [](const site::Run& run) {
    return run.has_trench && run.pipe.slot_area > 0;
  });
  test.takes_in = slotted || !design.inlets.empty() || !design.channels.empty();
  if (!slotted && !design.inlets.empty()) {
    test.at_grate = true;
    test.place = "the grate '" + design.inlets.front().name + "'";
    return design.inlets.front().at;
  }
  if (!slotted && !design.channels.empty()) {
    const Polyline& path = design.channels.front().path;
    test.at_grate = true;
    test.place = "the head of the channel '" + design.channels.front().name + "'";
    return point_along(path, std::min(0.5 * length(path), ground.grid.cell));
  }
  const int cell = lowest_judged_cell(site, terrain::ground_of(site, ground, design), test.place);
  const Grid& grid = ground.grid;
  return cell < 0 ? Point{} : Point{grid.x(grid.column(cell)), grid.y(grid.row(cell))};
}

HoseTest hose_test(const site::Site& site, const terrain::Ground& ground, const site::Design& design,
                   const HoseOptions& options) {
  HoseTest test;
  test.design = design.name;
  test.flow = options.flow;
  test.duration = options.duration;
  test.at = first_place(site, ground, design, test);
  if (options.at) {
    test.at = *options.at;
    test.place = "the place given";
    test.at_grate = false;
  }
  yard::Options yard_options;
  yard_options.threads = threads_each(1, options.threads);
  yard_options.leaks = {{"hose", cells_around(ground, test.at), test.flow, test.duration}};
  const std::vector<int>& cells = yard_options.leaks.front().cells;
  if (cells.empty())
    throw InputError({site.file.string(), 0, "--at"}, "a place without open ground",
                     "a place inside the yard and outside buildings", "Give another place.");
  rain::Hyetograph no_rain;
  no_rain.time = {0, options.duration};
  no_rain.intensity = {0};
  const site::Site closed = without_inflow(site);
  yard::Yard yard(closed, ground, no_rain, &design, yard_options);
  if (!yard.drain())
    throw InputError({site.file.string(), design.line, "design '" + design.name + "'"}, "no drain",
                     "a design with a run of pipe and an outlet", "Choose another with --design.");
  yard.set_reference_et(0);
  for (const drain::Outlet& outlet : yard.drain()->layout().outlets) {
    test.outlets.emplace_back();
    test.outlets.back().name = outlet.name;
    test.outlets.back().fills = outlet.kind == drain::OutletKind::dry_well;
    test.outlets.back().lid = outlet.kind == drain::OutletKind::pop_up && outlet.weep_area > 0;
  }
  for (const site::Run& run : design.runs)
    test.over_trench = test.over_trench || (run.has_trench && distance_to(run.path, test.at) <=
                                                                  0.5 * run.trench_width + 0.5 * patch);
  Watch watch(test, site.target.standing_depth, cells.front());
  watch.weep_capacity = weep_capacities(*yard.drain());
  watch.in_drain_at_start = yard.drain()->stored();
  watch.in_drain_before = watch.in_drain_at_start;
  const double in_wells_at_start = in_wells(*yard.drain());
  const double ground_at_start = yard.stored(Store::surface);
  const double end = test.duration + options.watch;
  double idle = 0; // s since anything was seen
  while (yard.time() < end - 1e-9) {
    const double since = yard.time() - test.duration;
    double look = since < 600 ? close_look : since < 6 * hour ? minute : 5 * minute;
    if (since < 0) look = std::min(look, -since);
    const double before = yard.time();
    yard.advance(std::min(end, before + look), &watch);
    if (options.progress) options.progress(std::min(1.0, yard.time() / (test.duration + hour)));
    const bool quiet = yard.time() > test.duration && watch.last_running < yard.time() - 1e-9 &&
                       watch.last_weeping < yard.time() - 1e-9 && watch.last_puddle < yard.time() - 1e-9;
    idle = quiet ? idle + (yard.time() - before) : 0;
    // Half an hour in which nothing runs and nothing stands: it is over, unless water is still on its way.
    const bool came_out = !std::isnan(test.first_water) || !std::isnan(test.weep_first);
    if (idle > hour / 2 && (came_out || idle > 3 * hour)) break;
  }
  test.given = test.flow * test.duration;
  last_flow(design, test);
  for (const site::Outlet& outlet : design.outlets)
    if (outlet.name == test.well) test.well_whole = outlet.well.depth;
  if (watch.last_running < yard.time() - 1e-9 && !std::isnan(test.first_water))
    test.outlet_stops = std::max(0.0, watch.last_running - test.duration);
  if (watch.last_weeping < yard.time() - 1e-9 && !std::isnan(test.weep_first))
    test.weep_stops = std::max(0.0, watch.last_weeping - test.duration);
  if (watch.last_puddle < yard.time() - 1e-9)
    test.puddle_gone = std::max(0.0, watch.last_puddle - test.duration);
  test.through_outlets = watch.out;
  test.capacity = outlet_capacity(*yard.drain(), design);
  test.by_outlets = yard.ledger().received(Store::drains);
  test.over_edges = yard.ledger().moved(Store::surface, Store::edges);
  test.on_ground = yard.stored(Store::surface) - ground_at_start;
  test.in_drain = yard.drain()->stored() - watch.in_drain_at_start;
  test.in_wells = in_wells(*yard.drain()) - in_wells_at_start;
  test.to_soil = test.given - test.by_outlets - test.over_edges - test.on_ground - test.in_drain;
  describe_hose_test(site, test);
  return test;
}

} // namespace lowspot::study
