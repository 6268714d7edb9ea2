#include <lowspot/results/drain_record.hpp>

#include <algorithm>
#include <numeric>

namespace lowspot::results {

namespace {
constexpr double worth_naming = 5e-3; // m

std::vector<std::pair<std::string, double>> shares(const DrainRecorder::Losses& sums, double seconds) {
  std::vector<std::pair<std::string, double>> list;
  for (std::size_t m = 0; m < sums.size(); ++m)
    if (sums[m] > 0) list.emplace_back(DrainRecorder::member_names[m], sums[m] / seconds);
  std::sort(list.begin(), list.end(), [](const auto& a, const auto& b) { return a.second > b.second; });
  return list;
}
} // namespace

const std::array<const char*, DrainRecorder::members> DrainRecorder::member_names = {
    "cap", "soil", "fabric", "stone", "slots", "pipe", "outlet"};

DrainRecorder::DrainRecorder(const yard::Yard& yard) {
  if (!yard.drain()) return;
  for (const drain::Run& run : yard.drain()->layout().runs) {
    runs_.emplace_back();
    runs_.back().name = run.name;
  }
  limit_seconds_.resize(runs_.size());
  outlet_flow_.assign(yard.drain()->layout().outlets.size(), 0.0);
  for (const drain::Station& station : yard.drain()->stations())
    highest_.push_back(
        std::min(station.invert, station.trench_width > 0 ? station.trench_bottom : station.invert));
  for (const drain::Outlet& outlet : yard.drain()->layout().outlets) outlets_.push_back({outlet.name, 0, 0});
  for (std::size_t r = 0; r < runs_.size(); ++r)
    before_.push_back(yard.drain()->run_state(static_cast<int>(r)).volume_out);
  losses_.resize(runs_.size());
  sums_.resize(runs_.size());
  find_vessels(yard);
}

namespace {
// Elevation of the tight layer: the soil over it begins below a slab.
double tight_elevation(const yard::Yard& yard, int cell) {
  const terrain::Ground& ground = yard.ground();
  const double slab = ground.slab_thickness.empty() ? 0 : ground.slab_thickness[cell];
  return ground.elevation[cell] - slab - yard.columns().depth[cell];
}
} // namespace

DrainRecorder::Losses DrainRecorder::losses_now(const yard::Yard& yard, std::size_t run,
                                                const drain::RunState& state) const {
  const drain::HeadLosses& heads = state.losses;
  Losses losses{heads.cap, 0, heads.fabric, heads.stone, heads.slots, heads.pipe, heads.outlet};
  if (heads.cap > 0) return losses;
  const std::span<const double> saturated = yard.saturated(), level = yard.drain()->stone_level();
  for (const yard::WallContact& contact : yard.walls()) {
    if (yard.drain()->stations()[contact.station].run != static_cast<int>(run)) continue;
    const double tight = tight_elevation(yard, contact.cell);
    // Below the tight layer's top the water only falls into the trench.
    const double fall = tight + saturated[contact.cell] - std::max(level[contact.station], tight);
    losses[in_soil] = std::max(losses[in_soil], fall - heads.fabric);
  }
  return losses;
}

void DrainRecorder::find_vessels(const yard::Yard& yard) {
  const drain::Layout& layout = yard.drain()->layout();
  for (std::size_t o = 0; o < layout.outlets.size(); ++o) {
    const bool pump = layout.outlets[o].kind == drain::OutletKind::pump;
    if (!pump && layout.outlets[o].kind != drain::OutletKind::dry_well) continue;
    vessels_.push_back({layout.outlets[o].name, pump ? "pump" : "dry well",
                        yard.drain()->outlet_level(static_cast<int>(o))});
    place_.push_back(static_cast<int>(o));
  }
  for (std::size_t f = 0; f < layout.fittings.size(); ++f) {
    if (layout.fittings[f].chamber.area <= 0) continue;
    const auto& mouth = layout.fittings[f].mouth;
    const bool channel = mouth && mouth->along.size() > 1;
    vessels_.push_back({layout.fittings[f].name, channel ? "channel" : "inlet",
                        yard.drain()->fitting_level(static_cast<int>(f))});
    place_.push_back(static_cast<int>(f));
  }
  vessel_flow_.assign(vessels_.size(), 0.0);
  for (std::size_t v = 0; v < vessels_.size(); ++v)
    vessel_before_.push_back(is_outlet(v) ? 0 : yard.drain()->fitting_volume(place_[v]));
}

bool DrainRecorder::is_outlet(std::size_t vessel) const {
  return vessels_[vessel].kind == "pump" || vessels_[vessel].kind == "dry well";
}

void DrainRecorder::step_vessels(const drain::Drain& drain) {
  for (std::size_t v = 0; v < vessels_.size(); ++v) {
    VesselRecord& vessel = vessels_[v];
    const int place = place_[v];
    if (is_outlet(v)) {
      vessel.highest_level = std::max(vessel.highest_level, drain.outlet_level(place));
      vessel.highest_stored = std::max(vessel.highest_stored, drain.outlet_stored(place));
      vessel_flow_[v] = outlet_flow_[static_cast<std::size_t>(place)];
    } else {
      vessel.highest_level = std::max(vessel.highest_level, drain.fitting_level(place));
      vessel_flow_[v] = drain.fitting_flow(place);
    }
    vessel.peak_flow = std::max(vessel.peak_flow, vessel_flow_[v]);
    vessel.volume = is_outlet(v) ? outlets_[static_cast<std::size_t>(place)].volume
                                 : drain.fitting_volume(place) - vessel_before_[v];
  }
}

void DrainRecorder::step(const yard::Yard& yard, const yard::StepFlows& flows) {
  const drain::Drain* drain = yard.drain();
  if (!drain) return;
  for (std::size_t r = 0; r < runs_.size(); ++r) {
    const drain::RunState state = drain->run_state(static_cast<int>(r));
    runs_[r].peak_flow = std::max(runs_[r].peak_flow, state.foot_flow);
    runs_[r].volume_out = state.volume_out - before_[r];
    if (state.surcharged) runs_[r].surcharged += flows.dt;
    if (state.limit != drain::Limit::nothing) limit_seconds_[r][drain::limit_name(state.limit)] += flows.dt;
    losses_[r] = losses_now(yard, r, state);
    const double all = std::accumulate(losses_[r].begin(), losses_[r].end(), 0.0);
    if (all < worth_naming) continue;
    Sums& sums = sums_[r][flows.start < yard.end_of_rain() ? 0 : 1];
    sums.seconds += flows.dt;
    for (std::size_t m = 0; m < members; ++m) sums.share[m] += losses_[r][m] / all * flows.dt;
  }
  for (std::size_t k = 0; k < outlet_flow_.size(); ++k)
    outlet_flow_[k] = k < flows.outlets.size() ? flows.outlets[k] / flows.dt : 0;
  for (std::size_t k = 0; k < outlet_flow_.size(); ++k) {
    outlets_[k].peak_flow = std::max(outlets_[k].peak_flow, outlet_flow_[k]);
    outlets_[k].volume += k < flows.outlets.size() ? flows.outlets[k] : 0;
  }
  step_vessels(*drain);
  const std::span<const double> pipe = drain->pipe_level(), stone = drain->stone_level();
  for (std::size_t s = 0; s < highest_.size(); ++s) highest_[s] = std::max({highest_[s], pipe[s], stone[s]});
}

std::vector<std::pair<std::string, double>> DrainRecorder::outlet_series(const yard::Yard& yard) const {
  std::vector<std::pair<std::string, double>> result;
  for (std::size_t k = 0; k < outlet_flow_.size(); ++k)
    result.emplace_back("drain:" + yard.drain()->layout().outlets[k].name + "_m3_per_s", outlet_flow_[k]);
  return result;
}

std::vector<std::pair<std::string, double>> DrainRecorder::run_series(const yard::Yard& yard) const {
  std::vector<std::pair<std::string, double>> result;
  const drain::Drain* drain = yard.drain();
  if (!drain) return result;
  for (std::size_t r = 0; r < runs_.size(); ++r) {
    const drain::RunState state = drain->run_state(static_cast<int>(r));
    result.emplace_back("run:" + runs_[r].name + ":foot_depth_m", state.foot_depth);
    result.emplace_back("run:" + runs_[r].name + ":stored_m3", state.stored);
    for (std::size_t m = 0; m < members; ++m)
      if (drain->layout().runs[r].has_trench || m >= in_pipe)
        result.emplace_back("run:" + runs_[r].name + ":lost_in_" + member_names[m] + "_m", losses_[r][m]);
  }
  const std::vector<drain::Fitting>& fittings = drain->layout().fittings;
  for (std::size_t f = 0; f < fittings.size(); ++f)
    result.emplace_back("fitting:" + fittings[f].name + ":level_m",
                        drain->fitting_level(static_cast<int>(f)));
  for (std::size_t v = 0; v < vessels_.size(); ++v) {
    if (!is_outlet(v)) { // its level stands among the fittings
      result.emplace_back("inlet:" + vessels_[v].name + "_m3_per_s", vessel_flow_[v]);
      continue;
    }
    result.emplace_back("well:" + vessels_[v].name + ":level_m", drain->outlet_level(place_[v]));
    result.emplace_back("well:" + vessels_[v].name + ":stored_m3", drain->outlet_stored(place_[v]));
  }
  return result;
}

std::vector<DrainRecord> DrainRecorder::finish(const yard::Yard& yard) const {
  std::vector<DrainRecord> result = runs_;
  for (std::size_t r = 0; r < result.size(); ++r) {
    result[r].full_flow_capacity = yard.drain()->full_flow_capacity(static_cast<int>(r));
    for (const auto& [name, seconds] : limit_seconds_[r])
      result[r].limit_hours.emplace_back(name, seconds / 3600);
    std::sort(result[r].limit_hours.begin(), result[r].limit_hours.end(),
              [](const auto& a, const auto& b) { return a.second > b.second; });
    result[r].lost_in_storm = shares(sums_[r][0].share, sums_[r][0].seconds);
    result[r].lost_in_drying = shares(sums_[r][1].share, sums_[r][1].seconds);
    result[r].limited_by = result[r].limit_hours.empty() ? "nothing" : result[r].limit_hours.front().first;
  }
  return result;
}

std::vector<FlowRecord> DrainRecorder::outlets() const {
  return outlets_;
}

std::vector<RunProfileRecord> DrainRecorder::profiles(const yard::Yard& yard) const {
  std::vector<RunProfileRecord> result;
  if (!yard.drain()) return result;
  const drain::Layout& layout = yard.drain()->layout();
  for (const drain::Run& run : layout.runs) {
    result.emplace_back();
    result.back().run = run.name;
    result.back().diameter = run.pipe.diameter;
    result.back().path = run.path;
  }
  const std::vector<drain::Station>& stations = yard.drain()->stations();
  for (std::size_t s = 0; s < stations.size(); ++s) {
    RunProfileRecord& profile = result[stations[s].run];
    profile.distance.push_back(stations[s].distance);
    profile.ground.push_back(stations[s].ground);
    profile.invert.push_back(stations[s].invert);
    profile.stone_top.push_back(stations[s].cap_bottom);
    profile.trench_bottom.push_back(stations[s].trench_bottom);
    profile.highest_water.push_back(highest_[s]);
  }
  return result;
}

} // namespace lowspot::results
