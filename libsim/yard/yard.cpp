#include <lowspot/yard/yard.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/terrain/reshape.hpp>
#include <lowspot/yard/books.hpp>
#include <lowspot/yard/drain_layout.hpp>
#include <lowspot/yard/intake_layout.hpp>
#include <lowspot/yard/seeps.hpp>
#include <lowspot/yard/state.hpp>
#include <lowspot/yard/trench_cut.hpp>

namespace lowspot::yard {
namespace {

// Whether a pipe that ends here has come out through the limit of the yard, whatever stands there.
bool passes_limit(const Polygon& outline, const Point& at) {
  if (outline.empty()) return false;
  constexpr double in_the_wall = 0.05; // m inside the limit
  Polyline limit = outline;
  limit.push_back(limit.front());
  return !contains(outline, at) || distance_to(limit, at) < in_the_wall;
}

// An outlet within a cell or two of an open limit leaves the yard, and so does one in a wall on the limit;
// elsewhere it runs onto the ground.
std::vector<int> place_outlets(const site::Site& site, const terrain::Ground& ground,
                               const site::Design& design, const drain::Layout& layout) {
  std::vector<int> cells;
  for (std::size_t k = 0; k < layout.outlets.size(); ++k) {
    const drain::Outlet& outlet = layout.outlets[k];
    if (outlet.kind == drain::OutletKind::pump) {
      const auto& hose = design.outlets[k].discharge;
      cells.push_back(hose ? nearest_active_cell(ground, *hose, "the hose of '" + outlet.name + "'") : -1);
      continue;
    }
    double gap = 1e300;
    const bool through = passes_limit(site.outline, outlet.at);
    for (const terrain::EdgeFace& edge : ground.edges)
      if (edge.open || through)
        gap = std::min(gap, distance({ground.grid.x(ground.grid.column(edge.cell)),
                                      ground.grid.y(ground.grid.row(edge.cell))},
                                     outlet.at));
    const bool leaves = gap < 1.5 * ground.grid.cell || outlet.kind == drain::OutletKind::submerged;
    cells.push_back(leaves ? -1 : nearest_active_cell(ground, outlet.at, "outlet '" + outlet.name + "'"));
  }
  return cells;
}

// The nearest open ground, however far: a carrier may pass under a building.
int nearest_any_cell(const terrain::Ground& ground, const Point& at) {
  int best = 0;
  double nearest = 1e300;
  for (std::size_t c = 0; c < ground.grid.cells(); ++c) {
    const double gap =
        distance({ground.grid.x(ground.grid.column(c)), ground.grid.y(ground.grid.row(c))}, at);
    if (!ground.active[c] || gap >= nearest) continue;
    nearest = gap;
    best = static_cast<int>(c);
  }
  return best;
}

std::vector<EdgeSupply> place_inflows(const site::Site& site, const terrain::Ground& ground) {
  std::vector<EdgeSupply> supplies;
  for (const site::EdgeInflow& inflow : site.edges.inflows) {
    EdgeSupply supply{
        {}, inflow.time, inflow.flow, inflow.name.empty() ? "inflow over the edge" : inflow.name};
    for (const std::size_t face :
         faces_along(site, ground, inflow.along, "edges.inflow '" + supply.name + "'")) {
      const int cell = ground.edges[face].cell; // in a corner it may have two
      if (std::find(supply.cells.begin(), supply.cells.end(), cell) == supply.cells.end())
        supply.cells.push_back(cell);
    }
    supplies.push_back(supply);
  }
  return supplies;
}

} // namespace

Yard::State::State(const site::Site& site_, const terrain::Ground& ground_, const rain::Hyetograph& rain_,
                   const site::Design* design_, const Options& options)
    : site(site_),
      reshaped(design_ && terrain::changes_ground(*design_)
                   ? std::make_unique<terrain::Ground>(terrain::reshape(site_, ground_, *design_))
                   : nullptr),
      ground(reshaped ? *reshaped : ground_), rain(rain_), design(design_),
      flow(make_surface_terrain(site_, ground), make_surface_options(options)),
      routed(options.method == surface::Method::routed), columns(make_soil_columns(site_, ground)),
      layer(make_perched_layer(site_, ground)), perched_solver(layer),
      saturated(initial_saturated(site_, ground)), demand(make_plant_demand(site_, ground)),
      books(ground.grid.cells()) {
  const std::size_t cells = ground.grid.cells();
  for (Field* field : {&canopy,   &supply,      &soil_capacity, &trench_capacity, &air_capacity,  &sink,
                       &taken,    &trench_took, &soil_water,    &recharge,        &net,           &overflow,
                       &short_of, &rising,      &falling,       &head_above,      &depth_before,  &pressing,
                       &leaving,  &evaporated,  &plant_demand,  &from_soil,       &from_saturated})
    field->assign(cells, 0.0);
  sealed.assign(cells, 0);
  sinking.assign(cells, 0.0);
  later = no_waiting_water(cells);
  trench.share.assign(cells, 0.0);
  if (reshaped) // what stood in the way of the design; what the ground itself leaves in doubt has been told
    warnings.assign(reshaped->warnings.begin() + static_cast<std::ptrdiff_t>(ground_.warnings.size()),
                    reshaped->warnings.end());
  if (design && has_drain(*design)) {
    const auto ground_at = [this](Point at) { return terrain::elevation_at(ground, at); };
    ResolvedDrain resolved = resolve_drain(site, *design, ground_at);
    resolved.layout.station_spacing = std::max(0.5, ground.grid.cell);
    warnings.insert(warnings.end(), resolved.warnings.begin(), resolved.warnings.end());
    mouths = settle_mouths(ground, resolved.layout, warnings);
    for (std::vector<double>* list : {&through_mouth, &on_mouths}) list->assign(mouths.size(), 0.0);
    into_tap.assign(resolved.layout.taps.size(), 0.0);
    drain.emplace(resolved.layout, ground_at);
    trench = cover_trenches(ground, drain->stations(), resolved.layout);
    std::vector<double> open, above;
    for (std::size_t s = 0; s < drain->stations().size(); ++s) {
      const drain::Station& station = drain->stations()[s];
      const double whole = drain::plan_of(station);
      open.push_back(whole > 0 ? std::min(1.0, trench.area[s] / whole) : 0);
      double mean = trench.stations[s].empty() ? std::numeric_limits<double>::quiet_NaN() : 0;
      for (const CellShare& part : trench.stations[s])
        mean += ground.elevation[part.cell] * part.area / trench.area[s];
      above.push_back(mean);
    }
    drain->lay_open(open, above);
    for (std::size_t c = 0; c < cells; ++c) columns.open[c] *= 1 - trench.share[c];
    outlet_cell = place_outlets(site, ground, *design, resolved.layout);
    at_outlets.assign(outlet_cell.size(), -std::numeric_limits<double>::infinity());
    for (std::size_t s = 0; s < drain->stations().size(); ++s)
      rises_at.push_back(trench.stations[s].empty() ? nearest_any_cell(ground, drain->stations()[s].at) : -1);
  }
  const std::size_t stations = drain ? drain->stations().size() : 0;
  for (std::vector<double>* list :
       {&ponded, &cap_capacity, &cap_found, &through_cap, &seeping, &fresh_seepage, &soil_wall, &soil_gives,
        &seepage_rate, &seeping_now, &available})
    list->assign(stations, 0.0);
  if (drain) {
    layer.closed_faces = find_cut_faces(ground, drain->stations(), drain->layout(), layer);
    perched_solver = perched::Solver(layer);
    walls = find_wall_contacts(ground, drain->stations(), drain->layout(), layer);
    for (const WallContact& wall : walls) {
      // The drain reckons the soil between wall and cell a quarter of a cell thick: here it is known.
      const double conductance = drain->wall_conductance(
          wall.station, layer.conductivity[wall.cell], layer.thickness[wall.cell], 4 * wall.distance,
          wall.fabric / wall.share, layer.tight_elevation[wall.cell] + layer.thickness[wall.cell]);
      exchanges.push_back(
          {wall.cell, conductance * drain->stations()[wall.station].length * wall.share, 0, 0});
      exchange_station.push_back(wall.station);
      exchange_share.push_back(exchanges.back().conductance);
    }
    // What the soil may draw of a station's water is shared by the conductances.
    std::vector<double> whole(drain->stations().size(), 0.0);
    for (std::size_t k = 0; k < exchanges.size(); ++k) whole[exchange_station[k]] += exchange_share[k];
    for (std::size_t k = 0; k < exchanges.size(); ++k)
      if (whole[exchange_station[k]] > 0) exchange_share[k] /= whole[exchange_station[k]];
  }
  roofs = route_roofs(site, ground, design, drain ? &*drain : nullptr);
  edge_supplies = place_inflows(site, ground);
  leaks = options.leaks;
  if (options.follow_sources) {
    std::vector<std::string> inflows;
    for (const EdgeSupply& inflow : edge_supplies) inflows.push_back(inflow.name);
    sources.emplace(site, ground, roofs, inflows, leaks, drain.has_value());
    flow.follow_sources(static_cast<int>(sources->list().size()));
  }
  seeps = place_seeps(site, ground);
  reference_et = std::isfinite(site.storm.reference_et) ? site.storm.reference_et : 0;
  for (const std::size_t face : faces_out(site, ground))
    edge_side.push_back(static_cast<int>(ground.edges[face].compass));
  // Rain on the part of a cell that a roof covers is the roof's.
  open_sky = ground.open_sky.empty() ? Field(cells, 1.0) : ground.open_sky;
  double catching = 0;
  for (std::size_t cell = 0; cell < cells; ++cell)
    catching += ground.active[cell] ? open_sky[cell] * ground.grid.cell_area() : 0;
  for (const RoofDischarge& roof : roofs) catching += roof.roof_area;
  total_rain = catching * rain.depth();
  for (Store store : {Store::surface, Store::soil, Store::perched, Store::drain})
    ledger.open(store, measured(store));
}

double Yard::State::measured(Store store) const {
  const double cell_area = ground.grid.cell_area();
  // In extended precision, as the books are kept: the round-off of a plain sum over as many cells as a yard
  // of 3-inch cells has comes near what may be missing.
  long double sum = 0;
  switch (store) {
  case Store::surface:
    for (std::size_t c = 0; c < canopy.size(); ++c) sum += canopy[c] + later.water[c];
    return flow.volume() + static_cast<double>(sum * cell_area);
  case Store::soil:
    for (std::size_t c = 0; c < saturated.size(); ++c)
      if (ground.active[c]) sum += soil::water_above(columns, c, saturated[c]) + soil_water[c];
    return static_cast<double>(sum * cell_area);
  case Store::perched:
    for (std::size_t c = 0; c < saturated.size(); ++c)
      if (ground.active[c]) sum += soil::water_saturated(columns, c, saturated[c]);
    return static_cast<double>(sum * cell_area);
  case Store::drain:
    for (double volume : seeping) sum += volume;
    return (drain ? drain->stored() : 0) + static_cast<double>(sum);
  default:
    return 0;
  }
}

double Yard::State::closure() const {
  double sum = 0;
  for (Store store : {Store::surface, Store::soil, Store::perched, Store::drain})
    sum += ledger.misfit(store, measured(store));
  return sum;
}

std::string Yard::State::which() const {
  return design ? "design '" + design->name + "'" : "yard as it is";
}

// The solver knows neither when nor whose water it is.
const perched::StepResult& Yard::State::step_perched(double dt, double share) {
  if (share < 1) {
    part_of_recharge = recharge;
    for (double& water : part_of_recharge) water *= share;
  }
  try {
    return perched_solver.step(saturated, rising, falling, share < 1 ? part_of_recharge : recharge,
                               head_above, exchanges, dt);
  } catch (const std::invalid_argument& problem) {
    throw NumericsError("the books do not close at " + rounded(time, 6) + " s: " + problem.what() + ", " +
                        which());
  } catch (const NumericsError& problem) {
    throw NumericsError(std::string(problem.what()) + ", at " + rounded(time, 6) + " s, " + which());
  }
}

void Yard::State::check_books() const {
  Content contents[] = {{Store::surface}, {Store::soil}, {Store::perched}, {Store::drain}};
  for (Content& content : contents) content.volume = measured(content.store);
  yard::check_books(ledger, contents, total_rain, time, which());
}

Yard::Yard(const site::Site& site, const terrain::Ground& ground, const rain::Hyetograph& rain,
           const site::Design* design, const Options& options)
    : state_(std::make_unique<State>(site, ground, rain, design, options)) {}
Yard::~Yard() = default;
Yard::Yard(Yard&&) noexcept = default;

void Yard::advance(double until, Observer* observer) {
  State& state = *state_;
  while (state.time < until) {
    const double dt = state.choose_step(until), change = state.next_change();
    state.step(dt);
    // Lands on `until` and on changes exactly: output times would creep, and what round-off leaves before a
    // change would be a step of its own, of 1e-11 s, over which no flow is known.
    state.time += dt;
    if (until - state.time < same_moment) state.time = until;
    if (std::abs(change - state.time) < same_moment) state.time = std::max(state.time, change);
    if (state.time >= until && state.since_soil > 0) state.soak(0); // what is read now shall be as of now
    if (observer) observer->step_done(*this, state.flows);
  }
}

double Yard::time() const {
  return state_->time;
}
double Yard::end_of_rain() const {
  return state_->rain.end_of_rain();
}
double Yard::end_time() const {
  const site::Site& site = state_->site;
  if (std::isfinite(site.run.until)) return site.run.until;
  return end_of_rain() + site.storm.dry;
}
const site::Site& Yard::site() const {
  return state_->site;
}
const terrain::Ground& Yard::ground() const {
  return state_->ground;
}
const site::Design* Yard::design() const {
  return state_->design;
}
const std::vector<std::string>& Yard::warnings() const {
  return state_->warnings;
}
std::span<const double> Yard::depth() const {
  return state_->flow.depth();
}
std::span<const double> Yard::saturated() const {
  return state_->saturated;
}
std::span<const std::uint8_t> Yard::sealed() const {
  return state_->sealed;
}
const soil::Columns& Yard::columns() const {
  return state_->columns;
}
const surface::Flow& Yard::surface() const {
  return state_->flow;
}
const drain::Drain* Yard::drain() const {
  return state_->drain ? &*state_->drain : nullptr;
}
const std::vector<WallContact>& Yard::walls() const {
  return state_->walls;
}
const std::vector<Source>& Yard::sources() const {
  static const std::vector<Source> none;
  return state_->sources ? state_->sources->list() : none;
}
const surface::Tags* Yard::shares() const {
  const surface::Flow& flow = state_->flow;
  return flow.tags();
}
std::span<const surface::TagSupply> Yard::arriving() const {
  if (!state_->sources) return {};
  return state_->sources->arriving();
}
void Yard::watch(std::vector<surface::Gate> gates) {
  if (state_->flow.tags()) state_->flow.tags()->watch(std::move(gates));
}
const Ledger& Yard::ledger() const {
  return state_->ledger;
}
const CellBooks& Yard::cell_books() const {
  return state_->books;
}
double Yard::stored(Store store) const {
  return state_->measured(store);
}
double Yard::closure() const {
  return state_->closure();
}
void Yard::set_reference_et(double rate) {
  state_->reference_et = rate;
}
double Yard::rain_volume() const {
  return state_->rain_so_far;
}

} // namespace lowspot::yard
