#include <lowspot/checks/trench_checks.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/base/text.hpp>
#include <lowspot/checks/judge.hpp>
#include <lowspot/job/least_cover.hpp>
#include <lowspot/site/leads_to.hpp>
#include <lowspot/site/outlet_named.hpp>
#include <lowspot/site/run_out.hpp>
#include <lowspot/yard/intake_layout.hpp>

namespace lowspot::checks {
namespace {
using results::CheckOutcome;
using results::CheckRecord;

void cover(const site::Site& site, const Works& works, const job::CutRun& cut,
           std::vector<CheckRecord>& list) {
  const double left_out = site::run_out(site, *works.design, works.run(cut));
  const job::CutStation* worst = job::least_covered(cut, left_out);
  if (!worst) return;
  const double least = job::cover(cut, *worst);
  CheckRecord record = item(site, "pipe_cover", "pipe_cover", "Ground over the pipe", cut.name);
  std::string where = at_station(*worst, site);
  if (left_out > 0) where += " (the last " + length_text(left_out, site) + " run out of the ground)";
  judge(record, site, "pipe_cover", least, where);
  // Less than none is no cover to be measured.
  if (least < 0) record.found = "the pipe comes " + length_text(-least, site) + " out of the ground" + where;
  list.push_back(std::move(record));
}

void fall(const site::Site& site, const job::CutRun& cut, std::vector<CheckRecord>& list) {
  CheckRecord record = item(site, "pipe_fall", "pipe_fall", "Fall of the pipe", cut.name);
  judge(record, site, "pipe_fall", cut.least_fall, " where it falls least");
  list.push_back(std::move(record));
}

// How deep something is dug [m]: on the ground as the design shapes it, and as it lies today.
struct Depth {
  double shaped = 0, today = 0;
  std::string where; // where it is deepest on the shaped ground
};

void depth(const site::Site& site, const std::string& about, const Depth& dug,
           std::vector<CheckRecord>& list) {
  constexpr double worth_saying = 0.0254; // m that it is deeper before the ground is shaped
  CheckRecord record = item(site, "trench_depth", "trench_depth", "Depth of the trench", about);
  judge(record, site, "trench_depth", dug.shaped, dug.where);
  // Protection is due from the limit on, so a trench just as deep does not keep it.
  const double limit = limit_value(site, "trench_depth"), ladder = limit_value(site, "trench_way_out");
  if (record.outcome == CheckOutcome::pass && dug.shaped >= limit - 1e-9) record.outcome = CheckOutcome::fail;
  const bool deeper = dug.today > dug.shaped + worth_saying;
  if (deeper)
    record.found += "; " + length_text(dug.today, site) + " where it is dug before the ground is shaped";
  if (record.outcome == CheckOutcome::fail)
    record.found += ": nobody enters without a protective system; not routine work";
  else if (record.outcome == CheckOutcome::pass && deeper && dug.today >= limit - 1e-9) {
    record.outcome = CheckOutcome::unknown;
    record.missing = "what is done first: shape the ground and then dig, or nobody enters without a "
                     "protective system";
  }
  if (record.outcome != CheckOutcome::fail && (deeper ? dug.today : dug.shaped) >= ladder - 1e-9)
    record.found += ": a ladder or another way out within " + length_text(25 * 0.3048, site);
  if (!record.limit.empty())
    record.limit = "less than " + limit_text(*find_limit(site, "trench_depth"), site);
  list.push_back(std::move(record));
}

// Beyond the limit nobody has shot how the ground lies.
bool at_the_limit(const site::Site& site, const Works& works, const site::Outlet& outlet) {
  Polyline limit = site.outline;
  limit.push_back(limit.front());
  return distance_to(limit, outlet.at) <= 2 * works.ground.grid.cell;
}

// A free outlet whose pipe ends under the ground beside it runs free only where the ground falls away further
// out.
void free_outlet(const site::Site& site, const Works& works, const job::CutRun& cut,
                 std::vector<CheckRecord>& list) {
  const site::Outlet* outlet = site::outlet_named(*works.design, works.run(cut).to);
  if (!outlet || outlet->kind != "daylight") return;
  const double below = cut.stations.front().ground - cut.stations.front().invert;
  CheckRecord record = item(site, "outlet_free", "outlet_free", "Outlet in open air", outlet->name);
  judge(record, site, "outlet_free", below);
  if (record.outcome == CheckOutcome::pass) record.found = "it comes out of the ground";
  if (record.outcome == CheckOutcome::fail) {
    const bool beyond = at_the_limit(site, works, *outlet);
    if (beyond) record.outcome = CheckOutcome::unknown;
    record.found = "the pipe ends " + length_text(below, site) + " below the ground beside it";
    if (beyond)
      record.missing =
          "how the ground lies beyond the limit: shoot it; unless it falls away there the end is "
          "buried, and nothing runs out";
    else
      record.found += ": buried, nothing runs out; raise the run, or lead it on to lower ground";
  }
  list.push_back(std::move(record));
}

void deepest_of(const site::Site& site, const Works& works, const job::CutRun& cut,
                std::vector<CheckRecord>& list) {
  const auto worst =
      std::max_element(cut.stations.begin(), cut.stations.end(),
                       [](const job::CutStation& a, const job::CutStation& b) { return a.cut() < b.cut(); });
  Depth dug{worst->cut(), worst->cut(), at_station(*worst, site)};
  for (const job::CutStation& station : cut.stations)
    dug.today = std::max(dug.today, terrain::elevation_at(*works.as_is, station.at) - station.bottom);
  depth(site, cut.name, dug, list);
}

// Up to which level water stays in a drain when nothing runs, and why.
struct Held {
  double level = -std::numeric_limits<double>::infinity(); // m
  std::string why;                                         // empty: all of it runs out
};

// A short piece of a trench whose stone gives its water to a dry well.
struct Stone {
  double bottom = 0, top = 0;          // elevation [m]
  double area = 0, porosity = 0;       // m2 seen from above, m3/m3
  double tight_layer_conductivity = 0; // m/s: it leaks through its bottom
};

// All of them that lead to an outlet. What a pipe without slots lies in gives it nothing.
std::vector<Stone> stone_before(const site::Site& site, const Works& works, const site::Outlet& outlet) {
  std::vector<Stone> pieces;
  for (const job::CutRun& cut : works.sheet.runs) {
    const site::Run& run = works.run(cut);
    const std::vector<const site::Outlet*> ends = site::outlets_reached(*works.design, run);
    if (!run.has_trench || (run.pipe.diameter > 0 && !(run.pipe.slot_area > 0)) ||
        std::find(ends.begin(), ends.end(), &outlet) == ends.end())
      continue;
    for (std::size_t k = 1; k < cut.stations.size(); ++k) {
      const job::CutStation &below = cut.stations[k - 1], &above = cut.stations[k];
      pieces.push_back({0.5 * (below.bottom + above.bottom),
                        0.5 * (below.ground + above.ground) - run.cap.depth,
                        cut.width * (above.station - below.station), run.stone.porosity,
                        yard::soil_at(site, above.at).tight_conductivity.likely});
    }
  }
  return pieces;
}

// How long a full dry well and the stone that leads to it take to fall to `level` by what both soak away when
// nothing more comes in [s]: what stands at each level over what leaves there, summed (Darcy 1856 at unit
// gradient).
double soaks_to(const site::Site& site, const Works& works, const site::Outlet& outlet, double top,
                double level) {
  constexpr int slices = 200;
  const site::Well& well = outlet.well;
  const site::Soil& soil = yard::soil_at(site, outlet.at);
  const bool own = std::isfinite(well.conductivity);
  const double conductivity = own ? well.conductivity : soil.tight_conductivity.likely;
  // As the drain has it: without a figure of its own it gives nothing to the topsoil.
  const double wall = own ? well.depth : std::max(0.0, well.depth - soil.depth.likely);
  const double low = std::max(0.0, level - (top - well.depth)), slice = (well.depth - low) / slices;
  const std::vector<Stone> before = stone_before(site, works, outlet);
  double time = 0;
  for (int k = 0; k < slices && slice > 0; ++k) {
    const double depth = low + (k + 0.5) * slice, at = top - well.depth + depth;
    double holds = well.plan * well.void_share; // m3 for each metre of level
    double leaves = conductivity * (well.plan + well.perimeter * std::min(wall, depth)); // m3/s
    for (const Stone& stone : before) {
      if (at <= stone.bottom) continue;
      if (at < stone.top) holds += stone.area * stone.porosity;
      leaves += stone.area * stone.tight_layer_conductivity;
    }
    time += slice * holds / leaves;
  }
  return time;
}

// `foot`: the invert where the pipe ends.
Held held_by(const site::Site& site, const Works& works, const site::Outlet& outlet, double foot) {
  constexpr double soon = 86400; // s: what is gone in a day does not freeze
  const double beside = terrain::elevation_at(works.ground, outlet.at);
  // It fills to the ground before it runs over, whatever the height at which the pipe comes in.
  if (outlet.kind == "dry well") {
    const double time = soaks_to(site, works, outlet, beside, foot);
    if (!(time > soon)) return {};
    return {beside, "the dry well '" + outlet.name + "', once full, keeps water in the pipe for " +
                        (time < 100 * soon ? rounded(time / soon, 2) + " days" : "months") +
                        " after the last comes in"};
  }
  if (outlet.kind == "daylight" && beside - foot > limit_value(site, "outlet_free") + 1e-9 &&
      !at_the_limit(site, works, outlet))
    return {beside, "the outlet '" + outlet.name + "' is buried and holds water"};
  if (outlet.kind == "submerged") {
    double level = outlet.level;
    for (const double later : outlet.levels) level = std::fmax(level, later);
    return {level, "the outlet '" + outlet.name + "' is held under water"};
  }
  if (outlet.kind == "pop-up" && !(outlet.weep > 0))
    return {(std::isfinite(outlet.lid) ? outlet.lid : beside) + outlet.opening_head,
            "the pop-up '" + outlet.name + "' has no weep hole and holds water"};
  if (outlet.kind == "pump")
    return {beside - outlet.well.depth + outlet.pump_on,
            "the pump '" + outlet.name + "' does not start before water stands in the pipe"};
  return {};
}

// The lowest invert of a pipe that ends at an outlet; of `cut` where none is drawn there [m].
double foot_at(const Works& works, const site::Outlet& outlet, const job::CutRun& cut) {
  double lowest = std::numeric_limits<double>::infinity();
  for (const job::CutRun& one : works.sheet.runs)
    if (!one.stations.empty() && works.run(one).to == outlet.name)
      lowest = std::min(lowest, one.stations.front().invert);
  return std::isfinite(lowest) ? lowest : cut.stations.front().invert;
}

// Of the outlets that water of a run comes to. Where its way parts, the lowest drains it.
Held held_in(const site::Site& site, const Works& works, const job::CutRun& cut) {
  Held lowest;
  bool first = true;
  for (const site::Outlet* outlet : site::outlets_reached(*works.design, works.run(cut))) {
    const Held held = held_by(site, works, *outlet, foot_at(works, *outlet, cut));
    if (first || held.level < lowest.level) lowest = held;
    first = false;
  }
  return lowest;
}

void frost(const site::Site& site, const Works& works, const job::CutRun& cut,
           std::vector<CheckRecord>& list) {
  constexpr double damp = 0.005; // m of water over the invert: nothing that bursts a pipe
  const bool belly = cut.least_fall <= 0;
  const Held held = held_in(site, works, cut);
  // The least ground over the invert, of all the run and of what water stands in.
  double least = std::numeric_limits<double>::infinity(), least_wet = least;
  bool all_wet = true;
  for (const job::CutStation& station : cut.stations) {
    const double over = station.ground - station.invert;
    const bool wet = belly || held.level > station.invert + damp;
    least = std::min(least, over);
    if (wet) least_wet = std::min(least_wet, over);
    all_wet = all_wet && wet;
  }
  const bool stands = std::isfinite(least_wet);
  if (stands) least = least_wet;
  CheckRecord record = item(site, "frost_depth", "frost", "Freezing", cut.name);
  const std::string shallow = (least > 0 ? "the pipe lies as little as " + length_text(least, site) + " deep"
                                         : "the pipe comes up to the ground") +
                              std::string(stands && !all_wet ? " where water stays in it" : "");
  record.found_value = least;
  const double limit = limit_value(site, "frost_depth");
  if (!stands) {
    // A pipe that runs empty has nothing to freeze, however shallow.
    record.outcome = CheckOutcome::pass;
    record.found = shallow + "; it falls all the way and runs empty";
    list.push_back(std::move(record));
    return;
  }
  record.found =
      shallow + "; " + (belly ? "the pipe has a belly or no fall, in which water stands" : held.why);
  if (std::isnan(limit)) {
    record.outcome = CheckOutcome::unknown;
    record.missing =
        "how deep the ground freezes: ask the building office, and put it in [limits] as frost_depth";
  } else
    record.outcome = least >= limit - 1e-9 ? CheckOutcome::pass : CheckOutcome::fail;
  list.push_back(std::move(record));
}

struct FootingMargin {
  double margin = std::numeric_limits<double>::infinity(); // m of what is dug over the line
  double distance = 0;                                     // m from the wall
  std::string where; // the work, and where along it; empty: nothing is dug
};

// The least height of the bottom of any trench or pit over the line from a footing `footing_depth` [m] deep.
FootingMargin footing_margin(const site::Site& site, const site::Building& building, const Works& works,
                             double slope, double footing_depth) {
  FootingMargin worst;
  const auto dug = [&](const Point& at, double half_width, double bottom, const auto& where) {
    Point wall_point;
    const double middle = distance_to_outline(building.outline, at, &wall_point);
    const double gap = std::max(0.0, middle - half_width);
    // The ground just outside the wall as it lies today: the footing's depth was measured from it.
    const double out = middle > 0 ? std::min(1.0, works.ground.grid.cell / middle) : 0;
    const Point beside{wall_point.x + out * (at.x - wall_point.x),
                       wall_point.y + out * (at.y - wall_point.y)};
    const double line = terrain::elevation_at(*works.as_is, beside) - footing_depth - slope * gap;
    if (bottom - line < worst.margin) worst = {bottom - line, gap, where()};
  };
  for (const job::CutRun& cut : works.sheet.runs)
    for (const job::CutStation& station : cut.stations)
      dug(station.at, 0.5 * cut.width, station.bottom, [&] { return cut.name + at_station(station, site); });
  for (const Pit& pit : pits(*works.design))
    dug(pit.at, pit.radius, terrain::elevation_at(works.ground, pit.at) - pit.depth,
        [&] { return pit.name; });
  return worst;
}

} // namespace

void check_trenches(const site::Site& site, const Works& works, std::vector<CheckRecord>& list) {
  for (const job::CutRun& cut : works.sheet.runs) {
    if (cut.stations.empty()) continue;
    cover(site, works, cut, list);
    fall(site, cut, list);
    deepest_of(site, works, cut, list);
    frost(site, works, cut, list);
    free_outlet(site, works, cut, list);
  }
  for (const Pit& pit : pits(*works.design)) {
    const double filled =
        terrain::elevation_at(works.ground, pit.at) - terrain::elevation_at(*works.as_is, pit.at);
    depth(site, pit.name, {pit.depth, std::max(pit.depth, pit.depth - filled), ""}, list);
  }
}

void check_footings(const site::Site& site, const Works& works, std::vector<CheckRecord>& list) {
  const double slope = limit_value(site, "footing_slope");
  for (const site::Building& building : site.buildings) {
    CheckRecord record = item(site, "footing_slope", "footing", "Digging beside the footing", building.name);
    record.limit = "nothing dug below a line that falls " + rounded(slope, 2) +
                   " for each 1 outward from the bottom of the footing";
    const bool known = std::isfinite(building.footing_depth);
    const FootingMargin worst =
        footing_margin(site, building, works, slope, known ? building.footing_depth : 0);
    if (worst.where.empty() || std::isnan(slope)) continue;
    const std::string place = worst.where + ", " + length_text(worst.distance, site) + " from the wall";
    record.found_value = worst.margin;
    if (worst.margin >= -1e-9) {
      record.outcome = CheckOutcome::pass;
      record.found = "what is dug stays " + length_text(worst.margin, site) + " above it (" + place + ")" +
                     (known ? "" : ", however shallow the footing");
    } else if (known) {
      record.outcome = CheckOutcome::fail;
      record.found = "what is dug cuts " + length_text(-worst.margin, site) + " below it (" + place +
                     "): only with an engineer's consent";
    } else {
      record.outcome = CheckOutcome::unknown;
      record.found = "it depends on the footing (" + place + ")";
      record.missing =
          "how deep the footing of " + building.name + " goes; " + length_text(-worst.margin, site) +
          " below the ground or more would do. The building's plans say it, or a hole dug by hand "
          "beside the wall; put it in the file as footing_depth";
    }
    list.push_back(std::move(record));
  }
}

} // namespace lowspot::checks
