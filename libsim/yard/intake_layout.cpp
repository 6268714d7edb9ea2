#include <lowspot/yard/intake_layout.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/drain/invert_along.hpp>
#include <lowspot/site/area_at.hpp>

namespace lowspot::yard {
namespace {

constexpr double pi = std::numbers::pi;
constexpr double gravity = 9.81;        // m/s2
constexpr double entrance = 0.61;       // of a sharp-edged opening (Torricelli)
constexpr double downspout_width = 0.1; // m, of a common downspout, and the open joint at its foot

std::string short_length(const site::Site& site, double metres) {
  return site.units == "ft" ? rounded(metres / 0.0254, 2) + " in" : rounded(metres * 1000, 3) + " mm";
}

double invert_near(const drain::Run& run, const Point& at) {
  double along = 0;
  distance_to(run.path, at, &along);
  return drain::invert_along(run, along);
}

// Lowest invert at which water can enter what a name stands for [m], near a place; infinite when unknown.
double invert_of(const drain::Layout& layout, const std::string& name, const Point& at) {
  double lowest = std::numeric_limits<double>::infinity();
  for (const drain::Run& run : layout.runs) {
    if (run.name == name) return invert_near(run, at);
    if (run.from == name) lowest = std::min(lowest, run.inverts.front());
    if (run.to == name) lowest = std::min(lowest, run.inverts.back());
  }
  for (const drain::Outlet& outlet : layout.outlets)
    if (outlet.name == name && outlet.chamber.area > 0) lowest = std::min(lowest, outlet.chamber.bottom);
  for (const drain::Fitting& fitting : layout.fittings)
    if (fitting.name == name && fitting.chamber.area > 0) lowest = std::min(lowest, fitting.chamber.bottom);
  return lowest;
}

[[noreturn]] void refuse(const site::Site& site, int line, const std::string& who, const std::string& found,
                         const std::string& expected, const std::string& mend) {
  throw InputError({site.file.string(), line, who}, found, expected, mend);
}

drain::Fitting build_inlet(const site::Site& site, const site::Inlet& inlet, double ground,
                           const drain::Layout& layout) {
  drain::Fitting built;
  built.name = inlet.name;
  built.at = inlet.at;
  double pipe = std::isfinite(inlet.depth) ? ground - inlet.depth : std::numeric_limits<double>::infinity();
  double target =
      inlet.to.empty() ? invert_of(layout, inlet.name, inlet.at) : invert_of(layout, inlet.to, inlet.at);
  if (!inlet.to.empty() && !std::isfinite(pipe)) {
    pipe = target;
    // Into a well the pipe goes a foot under the ground, not down to its bottom.
    for (const drain::Outlet& outlet : layout.outlets)
      if (outlet.name == inlet.to && outlet.chamber.area > 0)
        pipe = std::max(target, ground - std::max(0.3048, inlet.pipe + 0.1));
  }
  if (inlet.to.empty()) pipe = target;
  if (!std::isfinite(pipe))
    refuse(site, inlet.line, "inlet '" + inlet.name + "'", "an inlet that nothing takes the water from",
           "a run that begins at the inlet, or the name of what it drains to",
           "give it a `to`, or let a run begin there with `from` = '" + inlet.name + "'");
  if (!(pipe < ground - 0.5 * inlet.pipe))
    refuse(site, inlet.line, "inlet '" + inlet.name + "'",
           pipe >= ground
               ? "an inlet whose pipe would lie " + short_length(site, pipe - ground) + " above the ground"
               : "an inlet whose pipe would lie only " + short_length(site, ground - pipe) +
                     " under the ground",
           "a pipe that leaves the box under the ground", "deepen the run that it drains to, or move it");
  if (pipe < target - 0.02)
    refuse(site, inlet.line, "inlet '" + inlet.name + "'",
           "a pipe that leaves the box " + short_length(site, target - pipe) + " below what it drains to",
           "water that runs downhill", "make `depth` smaller, or deepen '" + inlet.to + "'");
  const double side = 1 - inlet.grate.debris;
  const double plan = inlet.grate.width * inlet.grate.length;
  built.chamber = {plan, pipe - inlet.sump, ground};
  built.mouth = drain::Mouth{ground,
                             2 * (inlet.grate.width + inlet.grate.length) * side,
                             plan * inlet.grate.open_share * side,
                             0,
                             true,
                             {inlet.at}};
  if (!inlet.to.empty())
    built.link = {inlet.to, pipe, inlet.pipe,
                  entrance * pi / 4 * inlet.pipe * inlet.pipe * std::sqrt(gravity * inlet.pipe)};
  return built;
}

drain::Fitting build_channel(const site::Site& site, const site::Channel& channel,
                             const std::function<double(Point)>& ground_at, const drain::Layout& layout,
                             std::vector<std::string>& warnings) {
  drain::Fitting built;
  built.name = channel.name;
  built.at = channel.path.back();
  const double whole = length(channel.path);
  double ground = std::numeric_limits<double>::infinity(), highest = -ground;
  for (int k = 0; k <= 20; ++k) {
    const double here = ground_at(point_along(channel.path, whole * k / 20));
    ground = std::min(ground, here), highest = std::max(highest, here);
  }
  if (highest - ground > channel.depth)
    warnings.push_back("channel '" + channel.name + "': the ground along it falls by " +
                       short_length(site, highest - ground) +
                       ", more than it is deep; it is computed as one level trough at its lowest place");
  const double side = 1 - channel.grate.debris;
  const double bottom = ground - channel.depth;
  built.chamber = {channel.width * whole, bottom, ground};
  built.mouth =
      drain::Mouth{ground, 2 * whole * side, channel.width * whole * channel.grate.open_share * side, 0,
                   true,   channel.path};
  built.link = {channel.to, bottom, channel.depth, channel.capacity};
  const double target = invert_of(layout, channel.to, built.at);
  if (std::isfinite(target) && target > bottom + 0.3 * channel.depth)
    warnings.push_back("channel '" + channel.name + "': '" + channel.to + "' lies " +
                       short_length(site, target - bottom) +
                       " above the channel's bottom, so that it never empties");
  return built;
}

} // namespace

const site::Soil& soil_at(const site::Site& site, const Point& at) {
  return site.soils.at(static_cast<std::size_t>(site::area_at(site, at).soil));
}

std::string destination(const site::Design* design, const site::Downspout& spout) {
  if (design)
    for (const site::DownspoutChange& change : design->downspouts)
      if (change.downspout == spout.name) return change.to;
  return spout.to;
}

bool has_drain(const site::Design& design) {
  const bool well = std::any_of(design.outlets.begin(), design.outlets.end(), [](const site::Outlet& outlet) {
    return outlet.kind == "dry well" || outlet.kind == "pump";
  });
  return well || !design.runs.empty() || !design.inlets.empty() || !design.channels.empty();
}

drain::Fitting plain_fitting(const site::Fitting& fitting, const std::function<double(Point)>& ground_at) {
  drain::Fitting built;
  built.name = fitting.name;
  built.at = fitting.at;
  built.loss = fitting.loss;
  if (std::isfinite(fitting.cleanout))
    built.mouth = drain::Mouth{ground_at(fitting.at),
                               pi * fitting.cleanout,
                               pi / 4 * fitting.cleanout * fitting.cleanout,
                               fitting.lift,
                               false,
                               {fitting.at}};
  return built;
}

drain::Outlet full_outlet(const site::Site& site, const site::Outlet& outlet, double arriving,
                          const std::function<double(Point)>& ground_at) {
  drain::Outlet built;
  built.name = outlet.name;
  built.at = outlet.at;
  built.invert = outlet.invert;
  const double ground = ground_at(outlet.at);
  if (outlet.kind == "submerged") {
    built.kind = drain::OutletKind::submerged;
    built.level = outlet.level;
    built.times = outlet.times;
    built.levels = outlet.levels;
  } else if (outlet.kind == "pop-up") {
    built.kind = drain::OutletKind::pop_up;
    built.level = std::isfinite(outlet.lid) ? outlet.lid : ground;
    built.opening_head = outlet.opening_head;
    built.weep_area = pi / 4 * outlet.weep * outlet.weep;
  } else if (outlet.kind == "dry well" || outlet.kind == "pump") {
    const site::Well& well = outlet.well;
    const site::Soil& soil = soil_at(site, outlet.at);
    built.kind = outlet.kind == "pump" ? drain::OutletKind::pump : drain::OutletKind::dry_well;
    built.chamber = {well.plan * well.void_share, ground - well.depth, ground};
    built.mouth = drain::Mouth{ground, well.perimeter, well.plan * well.void_share, 0, false, {outlet.at}};
    if (outlet.kind == "dry well") {
      const bool own = std::isfinite(well.conductivity);
      built.chamber.soak_conductivity = own ? well.conductivity : soil.tight_conductivity.likely;
      built.chamber.soak_plan = well.plan;
      built.chamber.soak_perimeter = well.perimeter;
      // What would soak into topsoil above the tight layer comes back as perched water.
      built.chamber.soak_top = own ? ground : std::max(built.chamber.bottom, ground - soil.depth.likely);
    } else {
      built.pump = {outlet.pump_rate, built.chamber.bottom + outlet.pump_on,
                    built.chamber.bottom + outlet.pump_off, outlet.fails_from, outlet.fails_to};
    }
    if (arriving < built.chamber.bottom)
      refuse(site, outlet.line, "outlet '" + outlet.name + "'",
             "a pipe that arrives " + short_length(site, built.chamber.bottom - arriving) +
                 " below the bottom of the " + outlet.kind,
             "a bottom below the pipe", "make its `depth` greater, or the trench shallower");
  }
  return built;
}

void add_intakes(const site::Site& site, const site::Design& design,
                 const std::function<double(Point)>& ground_at, drain::Layout& layout,
                 std::vector<std::string>& warnings) {
  for (const site::Inlet& inlet : design.inlets)
    layout.fittings.push_back(build_inlet(site, inlet, ground_at(inlet.at), layout));
  for (const site::Channel& channel : design.channels)
    layout.fittings.push_back(build_channel(site, channel, ground_at, layout, warnings));
  for (const site::Building& building : site.buildings)
    for (const site::Downspout& spout : building.downspouts) {
      const std::string to = destination(&design, spout);
      const auto named = [&](const auto& things) {
        return std::any_of(things.begin(), things.end(), [&](const auto& thing) { return thing.name == to; });
      };
      if (!named(layout.runs) && !named(layout.fittings) && !named(layout.outlets)) continue;
      layout.taps.push_back({spout.name,
                             to,
                             spout.at,
                             {ground_at(spout.at),
                              4 * downspout_width,
                              downspout_width * downspout_width,
                              0,
                              false,
                              {spout.at}}});
    }
}

} // namespace lowspot::yard
