#include <lowspot/yard/drain_warnings.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/site/run_out.hpp>
#include <lowspot/site/trench_rules.hpp>

namespace lowspot::yard {
namespace {

constexpr double free_end = 1.524;  // m, 5 ft: a pipe may stick so far out of a bank or lie so far on it
constexpr double hardly_any = 0.05; // m of cover: a spade goes through
constexpr double buried = 0.05;     // m: grass and splash stone over an end
constexpr double in_the_air = 0.01; // m
constexpr double round_off = 1e-9;  // m
constexpr int parts = 20;           // of each straight piece, at whose ends is looked

using GroundAt = std::function<double(Point)>;

// Calls `look` at places along a run, with the distance from its head and the ground over the invert [m].
void look_along(const drain::Run& built, const GroundAt& ground_at,
                const std::function<void(double, double)>& look) {
  double passed = 0;
  for (std::size_t k = 0; k + 1 < built.path.size(); ++k) {
    const double piece = distance(built.path[k], built.path[k + 1]);
    for (int part = 0; part <= parts; ++part) {
      const double t = static_cast<double>(part) / parts, place = passed + t * piece;
      const double invert = built.inverts[k] + t * (built.inverts[k + 1] - built.inverts[k]);
      look(place, ground_at(point_along(built.path, place)) - invert);
    }
    passed += piece;
  }
}

// The least ground over the invert, and where that is from the head [m].
struct Least {
  double value = std::numeric_limits<double>::infinity();
  double where = 0;
};
// What lies nearer than `left_out` to the foot is not looked at.
Least least_over_invert(const drain::Run& built, const GroundAt& ground_at, double left_out) {
  const double end = length(built.path) - left_out + round_off;
  Least least;
  look_along(built, ground_at, [&](double place, double over) {
    if (place <= end && over < least.value) least = {over, place};
  });
  return least;
}

// From the ground to the trench bottom where that is most [m]; without bedding the pipe lies on its wall.
double deepest(const site::Run& run, const drain::Run& built, const GroundAt& ground_at) {
  const double below = std::max(run.bedding, 0.5 * (run.pipe.outside_diameter - run.pipe.diameter));
  double most = 0;
  look_along(built, ground_at, [&](double, double over) { most = std::max(most, over + below); });
  return most;
}

// Over which length before its end a pipe may lie bare [m].
double bare_end(const site::Site& site, const site::Design& design, const site::Run& run) {
  return std::min(free_end, site::run_out(site, design, run));
}

std::string short_length(const site::Site& site, double metres) {
  return site.units == "ft" ? rounded(metres / 0.0254, 2) + " in" : rounded(metres * 1000, 2) + " mm";
}

std::string from_head(const site::Site& site, double where) {
  return (site.units == "ft" ? rounded(where / 0.3048, 3) + " ft" : rounded(where, 3) + " m") +
         " from its head";
}

} // namespace

void refuse_above_ground(const site::Site& site, const site::Design& design, const site::Run& run,
                         const drain::Run& built, const GroundAt& ground_at) {
  if (design.as_dug) return;
  const Least least = least_over_invert(built, ground_at, bare_end(site, design, run));
  if (least.value >= -in_the_air) return;
  throw InputError({site.file.string(), run.line, "design.run '" + run.name + "'"},
                   "a pipe above the ground, by " + short_length(site, -least.value) + " at its bottom, " +
                       from_head(site, least.where),
                   "a pipe in the ground",
                   "check its `inverts` against the levels there, dig deeper, or turn the path");
}

void warn_of_trench(const site::Site& site, const site::Design& design, const site::Run& run,
                    const drain::Run& built, const GroundAt& ground_at, std::vector<std::string>& warnings) {
  const std::string who = "run '" + run.name + "': ";
  // To the top of the pipe's outside.
  const double pipe = 0.5 * (run.pipe.diameter + std::max(run.pipe.diameter, run.pipe.outside_diameter));
  const Least bare = least_over_invert(built, ground_at, bare_end(site, design, run));
  const Least thin = least_over_invert(built, ground_at, site::run_out(site, design, run));
  if (bare.value < pipe)
    warnings.push_back(who + "the pipe comes out of the ground " + from_head(site, bare.where) + " (by " +
                       short_length(site, pipe - bare.value) +
                       "); water there runs on the ground, not in a trench");
  else if (thin.value < pipe + hardly_any)
    warnings.push_back(who + "only " + short_length(site, thin.value - pipe) + " of cover " +
                       from_head(site, thin.where) + "; a spade or a mower wheel can break the pipe");
  const double depth = deepest(run, built, ground_at) + round_off;
  const site::TrenchRule held = site::protected_from(site), ladder = site::way_out_from(site);
  const std::string deep = who + "the trench is " + short_length(site, depth) + " deep at its deepest; ";
  if (depth >= held.depth)
    warnings.push_back(deep + "walls of " + held.written + " and more must be protected against cave-in");
  else if (depth >= ladder.depth)
    warnings.push_back(deep + "from " + ladder.written + " a ladder or ramp must be in reach");
}

void warn_of_buried_outlet(const site::Site& site, const site::Outlet& outlet, double arriving,
                           const GroundAt& ground_at, std::vector<std::string>& warnings) {
  const double below = ground_at(outlet.at) - arriving;
  if (!(below > buried)) return;
  warnings.push_back("outlet '" + outlet.name + "' lies " + short_length(site, below) +
                     " below the ground beside it: it runs free only if the ground falls away beyond; "
                     "raise the run or check the level there");
}

} // namespace lowspot::yard
