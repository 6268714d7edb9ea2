#include <lowspot/checks/run_checks.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include <lowspot/base/text.hpp>
#include <lowspot/checks/drain_down.hpp>
#include <lowspot/checks/judge.hpp>
#include <lowspot/checks/works.hpp>
#include <lowspot/drain/pipe_section.hpp>
#include <lowspot/results/side_flows.hpp>
#include <lowspot/site/leads_to.hpp>
#include <lowspot/site/wording.hpp>
#include <lowspot/yard/tied_in.hpp>

namespace lowspot::checks {
namespace {
using results::CheckOutcome;
using results::CheckRecord;

constexpr double no_flow = 1e-7;     // m3/s: a run that carries less carries nothing
constexpr double same_volume = 1e-3; // m3: about a quart, below what a yard's books mean
constexpr double same_flow = 1e-6;   // m3/s

const results::DrainRecord* record_of(const results::DesignRecord& design, const std::string& run) {
  for (const results::DrainRecord& drain : design.drains)
    if (drain.name == run) return &drain;
  return nullptr;
}

// Whether water gets into the drain that did not pass through fabric or soil.
bool silt_gets_in(const site::Site& site, const site::Design& design) {
  if (!design.inlets.empty() || !design.channels.empty() || !yard::tied_in(site, design).empty()) return true;
  return std::any_of(design.runs.begin(), design.runs.end(), [](const site::Run& run) {
    const bool covered = run.cap.depth > 0 && !run.cap.of_stone;
    return run.has_trench && run.pipe.slot_area > 0 && !(run.fabric.permittivity > 0 && covered);
  });
}

void full(const site::Site& site, const results::DrainRecord& drain, std::vector<CheckRecord>& list) {
  if (!(drain.full_flow_capacity > 0)) return;
  CheckRecord record = item(site, "pipe_full", "pipe_full", "How full the pipe runs", drain.name);
  judge(record, site, "pipe_full", drain.peak_flow / drain.full_flow_capacity,
        " of what it carries when full, at the peak");
  // What leads on too slowly fills a pipe that carries little: its flow alone would not tell.
  if (record.outcome == CheckOutcome::pass && drain.surcharged > 60)
    record.found += "; yet it stands full for " + rounded(drain.surcharged / 3600, 2) +
                    " h, backed up from where it leads";
  list.push_back(std::move(record));
}

void silting(const site::Site& site, const Works& works, const job::CutRun& cut,
             const results::DrainRecord& drain, std::vector<CheckRecord>& list) {
  const bool silt = silt_gets_in(site, *works.design);
  const std::string limit = silt ? "silting_velocity" : "silting_velocity_clean";
  CheckRecord record = item(site, limit, "silting", "Speed that keeps silt moving", cut.name);
  if (drain.peak_flow <= no_flow) {
    record.outcome = CheckOutcome::unknown;
    record.found = "hardly anything runs in it in this storm";
    record.missing = "a storm in which it runs";
  } else if (cut.least_fall <= 0) {
    record.outcome = CheckOutcome::fail;
    record.found = "the pipe does not fall: silt settles";
  } else
    judge(record, site, limit,
          pipe_velocity(cut.inside_diameter, works.run(cut).pipe.manning_n, cut.least_fall, drain.peak_flow),
          silt ? " at the storm's peak; water gets in that did not pass fabric and cap"
               : " at the storm's peak");
  list.push_back(std::move(record));
}

std::string outlet_limit(const std::string& texture) {
  if (texture == "silty clay loam") return "outlet_velocity_silty_clay_loam";
  if (texture.find("clay") != std::string::npos) return "outlet_velocity_clay";
  if (texture.find("silt") != std::string::npos || texture == "loam") return "outlet_velocity_silt";
  return "outlet_velocity_sand"; // and where no texture is known: the most cautious
}

// The fall that water comes to a free end by [m/m]: that of the last piece of pipe, or of a steeper one so
// near that it has not slowed down from it.
double fall_at_end(const Works& works, const job::CutRun& cut) {
  // Partly full pipes are taken to run uniformly this many diameters below a change; chosen, on the safe
  // side.
  constexpr double settled_after = 50;
  const double near = cut.stations.front().station + settled_after * cut.inside_diameter;
  const std::set<std::string> feeders = site::all_that_lead_to(*works.design, cut.name);
  double steepest = 1e-6; // a belly at the end: water leaves at critical depth
  for (const job::CutRun& each : works.sheet.runs) {
    if (!feeders.count(each.name)) continue;
    for (std::size_t k = 1; k < each.stations.size() && each.stations[k - 1].station < near; ++k) {
      const job::CutStation &below = each.stations[k - 1], &above = each.stations[k];
      const double apart = above.station - below.station;
      if (apart > 0) steepest = std::max(steepest, (above.invert - below.invert) / apart);
    }
  }
  return steepest;
}

void erosion(const site::Site& site, const Works& works, const job::CutRun& cut,
             const results::DrainRecord& drain, std::vector<CheckRecord>& list) {
  const site::Run& run = works.run(cut);
  const auto outlet =
      std::find_if(works.design->outlets.begin(), works.design->outlets.end(),
                   [&](const site::Outlet& end) { return end.name == run.to && end.kind == "daylight"; });
  if (outlet == works.design->outlets.end() || drain.peak_flow <= no_flow) return;
  const Grid& grid = works.ground.grid;
  const int i = std::clamp(static_cast<int>((outlet->at.x - grid.x0) / grid.cell), 0, grid.nx - 1);
  const int j = std::clamp(static_cast<int>((outlet->at.y - grid.y0) / grid.cell), 0, grid.ny - 1);
  const std::string texture = site.soils[works.ground.soil[grid.index(i, j)]].texture;
  const std::string limit = outlet_limit(texture);
  CheckRecord record =
      item(site, limit, "outlet_velocity", "Speed at the outlet on bare ground", outlet->name);
  const double fall = fall_at_end(works, cut);
  judge(
      record, site, limit, end_velocity(cut.inside_diameter, run.pipe.manning_n, fall, drain.peak_flow),
      " at the storm's peak, from a pipe that falls " + written(catalog::LimitKind::slope, fall, site) +
          (texture.empty() ? " near its end; the soil there is not known" : " near its end, on " + texture));
  list.push_back(std::move(record));
}

double growth(double before, double after, double nothing) {
  if (after <= before + nothing) return std::min(0.0, before > nothing ? after / before - 1 : 0.0);
  return before > nothing ? after / before - 1 : std::numeric_limits<double>::infinity();
}

// Water that leaves, as the pages write it: litres in metric yards, where a volume dug is in cubic metres.
std::string amount_of_water(double volume, const site::Site& site) {
  return site.units == "m" ? rounded(volume * 1000) + " L" : site::written(volume, Dimension::volume, site);
}

// Water sent over the limit at no side, as by a hose that ends outside: nobody has said on whose ground.
void beyond(const site::Site& site, const results::SideFlow& after, std::vector<CheckRecord>& list) {
  if (after.volume() < same_volume) return;
  CheckRecord record = item(site, "neighbour_increase", "neighbour_increase", "Water sent out of the yard",
                            "outside the yard");
  record.outcome = CheckOutcome::unknown;
  record.found = "at once " + site::written(after.peak(), Dimension::flow, site) + ", in all " +
                 amount_of_water(after.volume(), site);
  record.missing = "where it goes: find the place and whose ground it is, and ask before it is sent there";
  list.push_back(std::move(record));
}

// Sides of the yard have what runs over the ground. What leaves through the soil is booked for all of them
// together.
std::string under_ground(const site::Site& site, double before, double after) {
  if (after <= before + same_volume) return "";
  return "; not in it what leaves through the soil, at all sides together " + amount_of_water(before, site) +
         " before, " + amount_of_water(after, site) + " after";
}

void neighbours(const site::Site& site, const site::Design& design, double cell,
                const results::DesignRecord& as_is, const results::DesignRecord& record,
                std::vector<CheckRecord>& list) {
  const std::vector<results::SideFlow> then = results::side_flows(site, nullptr, as_is, cell);
  const std::vector<results::SideFlow> now = results::side_flows(site, &design, record, cell);
  for (const results::SideFlow& before : then) {
    const auto after = std::find_if(now.begin(), now.end(),
                                    [&](const results::SideFlow& each) { return each.side == before.side; });
    if (after == now.end() || (before.volume() < same_volume && after->volume() < same_volume)) continue;
    CheckRecord item_of_side = item(site, "neighbour_increase", "neighbour_increase",
                                    "Water sent over the " + before.side + " side", before.side);
    const double flow = growth(before.peak(), after->peak(), same_flow);
    const double volume = growth(before.volume(), after->volume(), same_volume);
    const auto rate = [&](double value) { return site::written(value, Dimension::flow, site); };
    const auto amount = [&](double value) { return amount_of_water(value, site); };
    judge(item_of_side, site, "neighbour_increase", std::max(flow, volume), "");
    const std::string peaks = "at once " + rate(before.peak()) + " before, " + rate(after->peak()) + " after";
    const std::string sums =
        "in all " + amount(before.volume()) + " before, " + amount(after->volume()) + " after";
    // What grew more decides, and stands first: a page that has room for one of them has that.
    item_of_side.found = (volume > flow ? sums + "; " + peaks : peaks + "; " + sums) +
                         under_ground(site, as_is.ledger.left_underground, record.ledger.left_underground);
    list.push_back(std::move(item_of_side));
  }
  if (!now.empty() && now.back().side.empty()) beyond(site, now.back(), list);
}

} // namespace

double pipe_velocity(double diameter, double manning_n, double fall, double flow) {
  const double depth = drain::normal_depth(diameter, manning_n, fall, flow);
  return flow / drain::wetted_area(diameter, depth);
}

double end_velocity(double diameter, double manning_n, double fall, double flow) {
  const double depth =
      std::min(drain::normal_depth(diameter, manning_n, fall, flow), drain::critical_depth(diameter, flow));
  return flow / drain::wetted_area(diameter, depth);
}

std::vector<CheckRecord> check_run(const site::Site& site, const terrain::Ground& ground,
                                   const site::Design& design, const results::DesignRecord& as_is,
                                   const results::DesignRecord& record, double end_of_rain) {
  // What an earlier stage has laid is not dug again, but carries what this one leads into it.
  site::Design whole = design;
  whole.standing.clear();
  const Works works = lay_out(site, ground, whole);
  std::vector<CheckRecord> list;
  for (const job::CutRun& cut : works.sheet.runs)
    if (const results::DrainRecord* drain = record_of(record, cut.name)) {
      full(site, *drain, list);
      silting(site, works, cut, *drain, list);
      erosion(site, works, cut, *drain, list);
    }
  neighbours(site, design, ground.grid.cell, as_is, record, list);
  check_drain_down(site, ground, design, record, end_of_rain, list);
  return list;
}

} // namespace lowspot::checks
