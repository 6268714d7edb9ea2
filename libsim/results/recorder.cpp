#include <lowspot/results/recorder.hpp>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>

#include <lowspot/results/bed_record.hpp>
#include <lowspot/results/drain_record.hpp>
#include <lowspot/results/soggy.hpp>
#include <lowspot/results/source_shares.hpp>
#include <lowspot/results/standing.hpp>
#include <lowspot/yard/roofs.hpp>

namespace lowspot::results {
namespace {
constexpr double hour = 3600;
const char* const side_names[4] = {"west", "east", "south", "north"};

struct AreaCells {
  std::vector<int> cells;
  std::vector<double> areas; // m2 of the area on each cell
  double total = 0;
};

// Height of the table over the level from which the ground is soggy, one a cell [m].
void above_soggy(const yard::Yard& yard, Field& above) {
  const soil::Columns& columns = yard.columns();
  const std::span<const double> saturated = yard.saturated();
  const std::span<const std::uint8_t> sealed = yard.sealed();
  for (std::size_t c = 0; c < above.size(); ++c)
    above[c] = above_soggy_level(columns.depth[c], saturated[c], sealed[c] != 0);
}

Field above_soggy(const yard::Yard& yard) {
  Field above(yard.saturated().size());
  above_soggy(yard, above);
  return above;
}

AreaCells open_cells(const terrain::Coverage& coverage, const terrain::Ground& ground) {
  AreaCells result;
  for (std::size_t k = 0; k < coverage.cells.size(); ++k) {
    if (!ground.active[coverage.cells[k]]) continue;
    result.cells.push_back(coverage.cells[k]);
    result.areas.push_back(coverage.fractions[k] * ground.grid.cell_area());
    result.total += result.areas.back();
  }
  return result;
}

// At the foot of a house or of a slanting limit the middle of the cell may lie on the far side: no water is
// ever there, and the gauge reads the ground beside it.
int cell_of_gauge(const terrain::Ground& ground, const site::Gauge& gauge) {
  const long cell = cell_at(ground.grid, gauge.at.x, gauge.at.y);
  if (cell >= 0 && ground.active[cell]) return static_cast<int>(cell);
  return yard::nearest_active_cell(ground, gauge.at, "gauge '" + gauge.name + "'");
}
} // namespace

struct Recorder::State {
  State(const yard::Yard& yard, OutputTimes plan_)
      : plan(std::move(plan_)), standing(yard.site().target.standing_depth, yard.depth()),
        above(above_soggy(yard)), soggy(0, above), beds(yard), drains(yard) {}

  OutputTimes plan;
  DesignRecord record;
  StandingTime standing;
  Field above;        // m, see above_soggy()
  StandingTime soggy; // "deeper" than 0 there
  BedRecorder beds;
  DrainRecorder drains;
  std::optional<ShareRecorder> shares;
  std::vector<AreaCells> areas;
  std::vector<int> gauge_cells;
  std::vector<double> line_flow;
  double edge_flow = 0;
  double infiltrated = 0, underground = 0;
  std::size_t next_output = 0;
  void add(const std::string& name, double value) {
    for (Series& known : record.series)
      if (known.name == name) {
        known.values.push_back(value);
        return;
      }
    record.series.push_back({name, {value}});
  }
};

Recorder::Recorder(const yard::Yard& yard, OutputTimes plan)
    : state_(std::make_unique<State>(yard, std::move(plan))) {
  State& state = *state_;
  const site::Site& site = yard.site();
  const terrain::Ground& ground = yard.ground();
  DesignRecord& record = state.record;
  record.name = yard.design() ? yard.design()->name : "as is";
  const std::size_t cells = ground.grid.cells();
  for (Field* field : {&record.max_depth, &record.soggy_hours, &record.perched_max})
    field->assign(cells, 0.0);
  for (std::size_t c = 0; c < cells; ++c) {
    record.max_depth[c] = yard.depth()[c];
    record.perched_max[c] = yard.saturated()[c];
  }
  for (std::size_t a = 0; a < site.areas.size(); ++a) {
    state.areas.push_back(open_cells(ground.areas[a], ground));
    AreaRecord area;
    area.name = site.areas[a].name;
    area.under_slab = site.areas[a].impervious;
    const std::vector<std::string>& judged = site.target.areas;
    area.judged = judged.empty() || std::find(judged.begin(), judged.end(), area.name) != judged.end();
    record.areas.push_back(area);
  }
  for (const site::Gauge& gauge : site.gauges) {
    state.gauge_cells.push_back(cell_of_gauge(ground, gauge));
    record.gauges.push_back({gauge.name, 0, 0, 0});
  }
  for (const site::CrossLine& line : site.lines) record.lines.push_back({line.name, 0, 0});
  for (const char* side : side_names) record.edges.push_back({side, 0, 0});
  state.line_flow.assign(site.lines.size(), 0.0);
}
Recorder::~Recorder() = default;

void Recorder::follow_shares(yard::Yard& yard, const std::vector<terrain::LowSpot>& low_spots) {
  state_->shares.emplace(yard, low_spots);
}

const OutputTimes& Recorder::plan() const {
  return state_->plan;
}

void Recorder::step_done(const yard::Yard& yard, const yard::StepFlows& flows) {
  State& state = *state_;
  DesignRecord& record = state.record;
  const std::span<const double> depth = yard.depth();
  const std::span<const double> saturated = yard.saturated();
  state.standing.step(flows.start, yard.time(), depth, yard.end_of_rain());
  above_soggy(yard, state.above);
  state.soggy.step(flows.start, yard.time(), state.above, yard.end_of_rain());
  for (std::size_t c = 0; c < depth.size(); ++c) {
    record.max_depth[c] = std::max(record.max_depth[c], depth[c]);
    record.perched_max[c] = std::max(record.perched_max[c], saturated[c]);
  }
  for (std::size_t a = 0; a < state.areas.size(); ++a) {
    const AreaCells& area = state.areas[a];
    double volume = 0;
    for (std::size_t k = 0; k < area.cells.size(); ++k) volume += depth[area.cells[k]] * area.areas[k];
    record.areas[a].peak_volume = std::max(record.areas[a].peak_volume, volume);
  }
  for (std::size_t g = 0; g < state.gauge_cells.size(); ++g) {
    const int cell = state.gauge_cells[g];
    if (depth[cell] <= record.gauges[g].max_depth) continue;
    record.gauges[g].max_depth = depth[cell];
    record.gauges[g].time_of_max = yard.time();
  }
  state.edge_flow = 0;
  for (int side = 0; side < 4; ++side) {
    const double flow = flows.side_volume[side] / flows.dt;
    record.edges[side].peak_flow = std::max(record.edges[side].peak_flow, flow);
    record.edges[side].volume += flows.side_volume[side];
    state.edge_flow += flow;
  }
  for (std::size_t k = 0; k < flows.lines.size(); ++k) {
    state.line_flow[k] = flows.lines[k] / flows.dt;
    if (std::abs(state.line_flow[k]) > std::abs(record.lines[k].peak_flow))
      record.lines[k].peak_flow = state.line_flow[k];
    record.lines[k].volume += flows.lines[k];
  }
  state.infiltrated += flows.infiltrated;
  state.underground += flows.underground;
  state.beds.step(yard, flows.dt);
  state.drains.step(yard, flows);
  if (state.shares) state.shares->step(yard, flows.dt);
}

void Recorder::output(const yard::Yard& yard) {
  State& state = *state_;
  DesignRecord& record = state.record;
  const site::Site& site = yard.site();
  record.time.push_back(yard.time());
  state.add("edges_m3_per_s", state.edge_flow);
  for (const auto& [name, value] : state.drains.outlet_series(yard)) state.add(name, value);
  for (std::size_t g = 0; g < state.gauge_cells.size(); ++g) {
    const int cell = state.gauge_cells[g];
    state.add("gauge:" + site.gauges[g].name + "_m", yard.depth()[cell]);
    state.add("gauge:" + site.gauges[g].name + ":perched_m", yard.saturated()[cell]);
  }
  for (const auto& [name, value] : state.beds.series(yard)) state.add(name, value);
  for (std::size_t k = 0; k < site.lines.size(); ++k)
    state.add("line:" + site.lines[k].name + "_m3_per_s", state.line_flow[k]);
  for (const auto& [name, value] : state.drains.run_series(yard)) state.add(name, value);
  if (state.shares) state.shares->output(yard);
  const std::size_t index = state.next_output++;
  if (index >= state.plan.with_maps.size() || !state.plan.with_maps[index]) return;
  Frame frame;
  frame.time = yard.time();
  frame.depth.assign(yard.depth().begin(), yard.depth().end());
  frame.perched.assign(yard.saturated().begin(), yard.saturated().end());
  frame.root_moisture = root_moisture(yard);
  record.frames.push_back(std::move(frame));
}

DesignRecord Recorder::finish(const yard::Yard& yard, double wall_seconds) {
  State& state = *state_;
  DesignRecord& record = state.record;
  const double end_of_rain = yard.end_of_rain();
  const double clear_within = yard.site().target.clear_within;
  const Field& last = state.standing.last();
  record.soggy_hours = state.soggy.total();
  for (double& value : record.soggy_hours) value /= hour;
  for (std::size_t a = 0; a < state.areas.size(); ++a) {
    const AreaCells& cells = state.areas[a];
    AreaRecord& area = record.areas[a];
    double soggy = 0;
    for (std::size_t k = 0; k < cells.cells.size(); ++k) {
      const int cell = cells.cells[k];
      area.max_depth = std::max(area.max_depth, record.max_depth[cell]);
      if (record.max_depth[cell] > state.standing.limit()) area.standing_area += cells.areas[k];
      soggy += record.soggy_hours[cell] * cells.areas[k];
      area.perched_max = std::max(area.perched_max, record.perched_max[cell]);
    }
    if (cells.total > 0) area.soggy_hours = soggy / cells.total;
    const double soft =
        last_standing(cells.cells, cells.areas, state.soggy.last(), soggy_share * cells.total);
    area.soggy_hours_after_rain = std::max(0.0, soft - end_of_rain) / hour;
    area.still_soggy = soft > 0 && soft >= yard.time() - 1e-6;
    const double stood =
        last_standing(cells.cells, cells.areas, last, std::min(least_puddle, cells.total / 2));
    area.standing_hours_after_rain = std::max(0.0, stood - end_of_rain) / hour;
    area.still_standing = stood > 0 && stood >= yard.time() - 1e-6;
    // Also where the run ends before the rain does: nothing then shows that it would have been gone in time.
    area.clear_within_target = stood - end_of_rain <= clear_within && !area.still_standing;
  }
  for (std::size_t g = 0; g < state.gauge_cells.size(); ++g) {
    const double stood = last[state.gauge_cells[g]];
    record.gauges[g].standing_hours_after_rain = std::max(0.0, stood - end_of_rain) / hour;
    record.gauges[g].still_standing = stood > 0 && stood >= yard.time() - 1e-6;
  }
  // A line counts positive the way most of the water went, whichever way it was drawn.
  for (std::size_t k = 0; k < record.lines.size(); ++k) {
    if (record.lines[k].volume >= 0) continue;
    record.lines[k].volume = -record.lines[k].volume;
    record.lines[k].peak_flow = -record.lines[k].peak_flow;
    for (Series& series : record.series)
      if (series.name == "line:" + record.lines[k].name + "_m3_per_s")
        for (double& value : series.values) value = -value;
  }
  for (std::size_t c = 0; c < record.max_depth.size(); ++c)
    record.still_standing = record.still_standing || state.standing.standing(c);
  record.standing_hours = state.standing.after_rain();
  record.standing_hours_total = state.standing.total();
  record.last_standing = last;
  for (Field* field : {&record.standing_hours, &record.standing_hours_total})
    for (double& value : *field) value /= hour;
  record.beds = state.beds.finish(yard);
  record.drains = state.drains.finish(yard);
  record.vessels = state.drains.vessels();
  record.outlets = state.drains.outlets();
  if (state.shares) record.shares = state.shares->finish(yard);
  record.profiles = state.drains.profiles(yard);
  if (!yard.ground().earthworks.empty()) {
    record.own_ground = true;
    record.low_spots = terrain::find_low_spots(yard.ground());
    record.earthworks = yard.ground().earthworks;
    record.own_elevation = yard.ground().elevation;
  }
  const Ledger& books = yard.ledger();
  LedgerRecord& ledger = record.ledger;
  ledger.rain = books.given(Store::rain);
  ledger.inflow = books.given(Store::inflow);
  ledger.left_over_edges = books.received(Store::edges);
  ledger.left_underground = state.underground;
  ledger.left_by_drains = books.received(Store::drains);
  ledger.deep_leakage = books.balance(Store::deep_leakage);
  ledger.evapotranspiration = books.balance(Store::evapotranspiration);
  ledger.infiltrated = state.infiltrated;
  for (Store store : {Store::surface, Store::soil, Store::perched, Store::drain}) {
    ledger.stored_start += books.opened(store);
    ledger.stored_end += yard.stored(store);
  }
  ledger.closure = yard.closure();
  record.steps = yard.surface().counters().steps;
  record.wall_seconds = wall_seconds;
  return std::move(record);
}

} // namespace lowspot::results
