#include <lowspot/drain/balance.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/drain/brink.hpp>
#include <lowspot/drain/cap.hpp>
#include <lowspot/drain/chamber.hpp>
#include <lowspot/drain/mouth.hpp>
#include <lowspot/drain/reach_law.hpp>
#include <lowspot/drain/stone_store.hpp>

namespace lowspot::drain {

namespace {

constexpr double slope_blur = 1e-4;       // m/m: discharge is straight in the slope within this of zero
constexpr double loss_depth = 2e-3;       // m of water on the bottom at which the loss to depth is whole
constexpr double rise_blur = 1e-3;        // m
constexpr double control_per_area = 1e4;  // 1/s: an outlet held by a level stands this little above it
constexpr double weep_coefficient = 0.61; // of a sharp-edged hole (Torricelli)

// Losses in velocity heads act with the friction over the reach: slope = Q2 / K2 + loss Q2 / (2 g A2
// distance).
void lose_head(const PipeReach& reach, const Section& section, SectionState& state) {
  if (state.conveyance <= 0 || state.area <= 0) return;
  const bool full = state.area >= section.full_area; // nothing flows through the slot
  const double area = full ? section.full_area : state.area;
  const double widening = full ? 0 : state.width / area;
  const double local = reach.loss / (2 * gravity * reach.distance * area * area);
  const double k = state.conveyance;
  const double whole = 1 / std::sqrt(1 / (k * k) + local);
  state.conveyance_slope = whole * whole * whole * (state.conveyance_slope / (k * k * k) + local * widening);
  state.conveyance = whole;
}

// What comes in through openings along a reach [m2/s].
double gathered_along(const PipeReach& reach, std::span<const double> gathered) {
  if (reach.pipe_a < 0) return gathered[reach.pipe_b];
  if (reach.pipe_b < 0) return gathered[reach.pipe_a];
  return 0.5 * (gathered[reach.pipe_a] + gathered[reach.pipe_b]);
}

// Drag of that water, see reach_flow() [s/m3], with its slope in the depth.
Curve drag_at(const Section& section, const SectionState& state, double gathered) {
  if (gathered <= 0 || state.area <= 0) return {};
  const bool full = state.area >= section.full_area; // nothing flows through the slot
  const double area = full ? section.full_area : state.area;
  const double drag = 2 * gathered / (gravity * area * area);
  return {drag, full ? 0 : -2 * drag * state.width / area};
}

template <class Ties>
std::vector<std::pair<int, int>> with_pairs(std::vector<std::pair<int, int>> pairs, const Ties& ties) {
  for (const auto& tie : ties) pairs.emplace_back(tie.a, tie.b);
  return pairs;
}

std::vector<std::pair<int, int>> pattern(const Network& network) {
  std::vector<std::pair<int, int>> pairs;
  for (const SlotTie& slot : network.slots) pairs.emplace_back(slot.stone, slot.pipe);
  return with_pairs(with_pairs(with_pairs(pairs, network.pipe_reaches), network.stone_ties), network.links);
}

} // namespace

double place_volume(const PlaceStore& place, double level) {
  return place.area * (std::min(level, place.top) - place.bottom) +
         place.area_above * std::max(0.0, level - place.top);
}

Balance::Balance(const Network& network) : matrix_(network.unknowns, pattern(network)) {
  const auto corner = [&](int a, int b) {
    return Corner{matrix_.position(a, a), matrix_.position(a, b), matrix_.position(b, a),
                  matrix_.position(b, b)};
  };
  for (const SlotTie& slot : network.slots) slot_corners_.push_back(corner(slot.stone, slot.pipe));
  for (const PipeReach& reach : network.pipe_reaches) reach_corners_.push_back(corner(reach.a, reach.b));
  for (const StoneTie& tie : network.stone_ties) stone_corners_.push_back(corner(tie.a, tie.b));
  for (const LinkTie& link : network.links) link_corners_.push_back(corner(link.a, link.b));
  for (int i = 0; i < network.unknowns; ++i) diagonal_.push_back(matrix_.position(i, i));
  sections_.resize(network.pipes.size());
  depth_ahead_.resize(network.pipe_reaches.size());
  flows_.slots.assign(network.slots.size(), 0.0);
  flows_.pipe_reaches.assign(network.pipe_reaches.size(), 0.0);
  flows_.stone_ties.assign(network.stone_ties.size(), 0.0);
  flows_.loss.assign(network.stones.size(), 0.0);
  flows_.rise.assign(network.stones.size(), 0.0);
  flows_.cap.assign(network.stones.size(), 0.0);
  flows_.overflow.assign(network.pipes.size(), 0.0);
  flows_.free_ends.assign(network.free_ends.size(), 0.0);
  flows_.stone_ends.assign(network.stone_ends.size(), 0.0);
  flows_.links.assign(network.links.size(), 0.0);
  flows_.mouths.assign(network.mouths.size(), 0.0);
  flows_.soaks.assign(network.places.size(), 0.0);
  flows_.pumps.assign(network.pumps.size(), 0.0);
}

void Balance::pass(const Exchange2& flow, const Corner& corner, int a, int b) {
  const double dt = input_->dt;
  residual_[a] += dt * flow.q;
  residual_[b] -= dt * flow.q;
  if (!with_slopes_) return;
  auto values = matrix_.values();
  values[corner.aa] += dt * flow.da;
  values[corner.ab] += dt * flow.db;
  values[corner.ba] -= dt * flow.da;
  values[corner.bb] -= dt * flow.db;
}

void Balance::leave(double q, double slope, int unknown) {
  residual_[unknown] += input_->dt * q;
  if (with_slopes_) matrix_.values()[diagonal_[unknown]] += input_->dt * slope;
}

void Balance::stones(const Network& network) {
  for (std::size_t k = 0; k < network.stones.size(); ++k) {
    const StoneStore& stone = network.stones[k];
    const int u = stone.unknown;
    const double level = level_[u];
    residual_[u] += stone_volume(stone, level);
    if (with_slopes_) matrix_.values()[diagonal_[u]] += stone_area(stone, level);
    const Curve wet = smooth_step((level - stone.bottom) / loss_depth);
    flows_.loss[k] = stone.loss * wet.value;
    const Station& station = network.stations[stone.station];
    const double on_ground = input_->ponded[stone.station];
    const Curve above =
        smooth_positive(level - std::max(station.ground + on_ground, stone.bottom), rise_blur);
    flows_.rise[k] = stone.cap_conductance * above.value;
    leave(flows_.loss[k] + flows_.rise[k],
          stone.loss * wet.slope / loss_depth + stone.cap_conductance * above.slope, u);
    if (input_->ground.cap_most.empty()) continue;
    Curve down = cap_flow(station.open * stone.cap_conductance, stone.cap_depth, on_ground,
                          station.ground + on_ground - level);
    const double most = input_->ground.cap_most[stone.station];
    if (down.value > most) down = {most, 0};
    flows_.cap[k] = down.value;
    leave(-down.value, -down.slope, u);
  }
  for (std::size_t k = 0; k < network.stone_ties.size(); ++k) {
    const StoneTie& tie = network.stone_ties[k];
    const Exchange2 flow = stone_reach_flow(tie.reach, level_[tie.a], level_[tie.b]);
    flows_.stone_ties[k] = flow.q;
    pass(flow, stone_corners_[k], tie.a, tie.b);
  }
}

void Balance::pipes(const Network& network) {
  for (std::size_t k = 0; k < network.pipes.size(); ++k) {
    const PipeStore& pipe = network.pipes[k];
    const int u = pipe.unknown;
    const Section& section = network.sections[pipe.section];
    sections_[k] = storage_at(section, level_[u] - pipe.invert);
    residual_[u] += pipe.length * sections_[k].area;
    if (with_slopes_) matrix_.values()[diagonal_[u]] += pipe.length * sections_[k].width;
    flows_.overflow[k] = 0;
    if (!input_->open_pipe[k]) continue;
    const Station& station = network.stations[pipe.station];
    const double above = level_[u] - std::max(station.ground + input_->ponded[pipe.station], pipe.invert);
    if (above <= 0) continue;
    double slope = 0;
    flows_.overflow[k] = orifice_flow(1.0, section.full_area, above, slope);
    leave(flows_.overflow[k], slope, u);
  }
  for (std::size_t k = 0; k < network.slots.size(); ++k) {
    const SlotTie& slot = network.slots[k];
    const Exchange2 flow = openings_flow(slot.openings, level_[slot.stone], level_[slot.pipe]);
    flows_.slots[k] = flow.q;
    pass(flow, slot_corners_[k], slot.stone, slot.pipe);
  }
}

void Balance::places(const Network& network) {
  for (std::size_t k = 0; k < network.places.size(); ++k) {
    const PlaceStore& place = network.places[k];
    const int u = place.unknown;
    residual_[u] += place_volume(place, level_[u]);
    if (with_slopes_) matrix_.values()[diagonal_[u]] += level_[u] < place.top ? place.area : place.area_above;
    if (place.chamber.soak_conductivity <= 0) continue;
    const Curve soak = soak_rate(place.chamber, level_[u]);
    flows_.soaks[k] = soak.value;
    leave(soak.value, soak.slope, u);
  }
  for (std::size_t k = 0; k < network.links.size(); ++k) {
    const LinkTie& link = network.links[k];
    const Exchange2 flow = short_pipe_flow(link.openings, level_[link.a], level_[link.b]);
    flows_.links[k] = flow.q;
    pass(flow, link_corners_[k], link.a, link.b);
  }
  for (std::size_t k = 0; k < network.mouths.size(); ++k) {
    const Mouth& mouth = network.mouths[k].mouth;
    const int u = network.mouths[k].unknown;
    double slope = 0;
    flows_.mouths[k] =
        mouth_flow(mouth.rim, mouth.area, level_[u] - mouth.level - input_->on_mouths[k] - mouth.lift, slope);
    leave(flows_.mouths[k], slope, u);
  }
  const GroundAhead& ground = input_->ground;
  flows_.entering.resize(ground.grates.size());
  for (std::size_t k = 0; k < ground.grates.size(); ++k) {
    const MouthStore& store = network.mouths[ground.grates[k].mouth];
    flows_.entering[k] = 0;
    if (!takes_in(store)) continue;
    const Curve in = mouth_intake(store.mouth, ground.grates[k], level_[store.unknown], ground.interval);
    flows_.entering[k] = in.value;
    leave(-in.value, -in.slope, store.unknown);
  }
  for (std::size_t k = 0; k < network.pumps.size(); ++k) {
    const PumpStore& pump = network.pumps[k];
    flows_.pumps[k] = 0;
    if (!input_->pump_runs[k]) continue;
    const Curve wet = smooth_step((level_[pump.unknown] - pump.bottom) / pump_film);
    flows_.pumps[k] = pump.pump.rate * wet.value;
    leave(flows_.pumps[k], pump.pump.rate * wet.slope / pump_film, pump.unknown);
  }
}

// Whether q is faster at this depth than its waves run.
bool Balance::is_fast(double q, int pipe, int section, double depth, const Network& network) const {
  const SectionState state = pipe >= 0 ? sections_[pipe] : storage_at(network.sections[section], depth);
  const double area = std::max(0.0, state.area);
  return q * q * state.width > gravity * area * area * area;
}

void Balance::reaches(const Network& network) {
  for (std::size_t k = 0; k < network.pipe_reaches.size(); ++k) {
    const PipeReach& reach = network.pipe_reaches[k];
    const double depth_a = std::max(0.0, level_[reach.a] - reach.invert_a);
    const double depth_b = std::max(0.0, level_[reach.b] - reach.invert_b);
    const double weight = input_->weight[k];
    const double slope = (reach.invert_a - reach.invert_b + weight * (depth_a - depth_b)) / reach.distance;
    const bool forward = slope >= 0;
    const int giver = forward ? reach.pipe_a : reach.pipe_b;
    const double depth = forward ? depth_a : depth_b;
    // What leaves a station is carried at the depth of its end, which leans on that of its middle.
    const double lean = giver < 0 ? 0 : (forward ? input_->lean[giver] : -input_->lean[giver]);
    const Section& section = network.sections[reach.section];
    SectionState state = at_depth(section, depth * (1 + lean));
    if (reach.loss > 0) lose_head(reach, section, state);
    const Curve drag = drag_at(section, state, gathered_along(reach, input_->gathered));
    const ReachFlow along = reach_flow(state.conveyance, drag.value, slope, slope_blur);
    Exchange2 flow;
    flow.q = along.q;
    const double by_gradient = along.by_slope * weight / reach.distance;
    const double by_depth =
        (along.by_conveyance * state.conveyance_slope + along.by_drag * drag.slope) * (1 + lean);
    if (depth_a > 0) flow.da = by_gradient + (forward ? by_depth : 0);
    if (depth_b > 0) flow.db = -by_gradient + (forward ? 0 : by_depth);
    depth_ahead_[k] = depth_b;
    if (forward && is_fast(flow.q, reach.pipe_b, reach.section, depth_b, network)) {
      const double bed = (reach.invert_a - reach.invert_b) / reach.distance;
      const BrinkReach brink{state.conveyance,
                             state.conveyance_slope * (1 + lean),
                             bed,
                             weight / reach.distance,
                             slope_blur,
                             drag.value,
                             drag.slope * (1 + lean)};
      if (const auto over = flow_over_brink(section, brink, depth_a, depth_b)) {
        flow = {over->q, over->slope, 0};
        depth_ahead_[k] = over->depth;
      }
    }
    flows_.pipe_reaches[k] = flow.q;
    pass(flow, reach_corners_[k], reach.a, reach.b);
  }
}

void Balance::outlets(const Network& network) {
  for (std::size_t k = 0; k < network.free_ends.size(); ++k) {
    const FreeEnd& end = network.free_ends[k];
    const Section& section = network.sections[end.section];
    const double level = level_[end.unknown];
    double slope = 0;
    double q = free_end_flow(section, end.bed_slope, level - end.invert, slope);
    // A level outside (or a lid) holds the water back, and a flap keeps it from coming in.
    const double outside = input_->held[end.place];
    const double held = control_per_area * section.full_area * std::max(0.0, level - outside);
    if (held < q) {
      q = held;
      slope = held > 0 ? control_per_area * section.full_area : 0;
    }
    const double weeps_above = std::max(end.invert, input_->outside[end.place]);
    if (end.weep_area > 0 && level > weeps_above) {
      double weep_slope = 0;
      const double weep = orifice_flow(weep_coefficient, end.weep_area, level - weeps_above, weep_slope);
      if (weep > q) {
        q = weep;
        slope = weep_slope;
      }
    }
    flows_.free_ends[k] = q;
    leave(q, slope, end.unknown);
  }
  for (std::size_t k = 0; k < network.stone_ends.size(); ++k) {
    const StoneEnd& end = network.stone_ends[k];
    const double level = level_[end.unknown];
    const double outside = std::max(input_->held[end.place], end.reach.bottom_b);
    Exchange2 flow = level > outside ? stone_reach_flow(end.reach, level, outside) : Exchange2{};
    const double weeps_above = std::max(input_->outside[end.place], end.reach.bottom_b);
    if (end.weep_area > 0 && level > weeps_above) {
      const Exchange2 to_hole = stone_reach_flow(end.reach, level, weeps_above);
      double hole_slope = 0;
      const double hole = orifice_flow(weep_coefficient, end.weep_area, level - weeps_above, hole_slope);
      const Exchange2 weep = hole < to_hole.q ? Exchange2{hole, hole_slope, 0} : to_hole;
      if (weep.q > flow.q) flow = weep;
    }
    flows_.stone_ends[k] = flow.q;
    leave(flow.q, flow.da, end.unknown);
  }
}

void Balance::evaluate(const Network& network, std::span<const double> level, const StepInput& input,
                       std::span<double> residual, bool with_slopes) {
  level_ = level;
  input_ = &input;
  residual_ = residual;
  with_slopes_ = with_slopes;
  for (std::size_t i = 0; i < residual.size(); ++i) residual[i] = -input.book[i] - input.dt * input.source[i];
  if (with_slopes) matrix_.clear();
  stones(network);
  pipes(network);
  places(network);
  reaches(network);
  outlets(network);
}

double flow_at_foot(const RunFoot& foot, const Flows& flows) {
  if (foot.reach >= 0) return flows.pipe_reaches[foot.reach];
  if (foot.end >= 0) return flows.stone_ends[foot.end];
  return foot.tie >= 0 ? flows.stone_ties[foot.tie] : 0;
}

} // namespace lowspot::drain
