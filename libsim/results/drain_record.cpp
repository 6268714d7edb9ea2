#include <lowspot/results/drain_record.hpp>

#include <algorithm>

namespace lowspot::results {

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
  find_vessels(yard);
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
}

bool DrainRecorder::is_outlet(std::size_t vessel) const {
  return vessels_[vessel].kind == "pump" || vessels_[vessel].kind == "dry well";
}

void DrainRecorder::step_vessels(const drain::Drain& drain, double dt) {
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
    vessel.volume += vessel_flow_[v] * dt;
  }
}

void DrainRecorder::step(const yard::Yard& yard, const yard::StepFlows& flows) {
  const drain::Drain* drain = yard.drain();
  if (!drain) return;
  for (std::size_t r = 0; r < runs_.size(); ++r) {
    const drain::RunState state = drain->run_state(static_cast<int>(r));
    runs_[r].peak_flow = std::max(runs_[r].peak_flow, state.foot_flow);
    runs_[r].volume_out += state.foot_flow * flows.dt;
    if (state.surcharged) runs_[r].surcharged += flows.dt;
    if (state.limit != drain::Limit::nothing) limit_seconds_[r][drain::limit_name(state.limit)] += flows.dt;
  }
  for (std::size_t k = 0; k < outlet_flow_.size(); ++k)
    outlet_flow_[k] = k < flows.outlets.size() ? flows.outlets[k] / flows.dt : 0;
  step_vessels(*drain, flows.dt);
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
    result[r].limited_by = result[r].limit_hours.empty() ? "nothing" : result[r].limit_hours.front().first;
  }
  return result;
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
