#include <lowspot/drain/place_problems.hpp>

#include <cmath>
#include <limits>

namespace lowspot::drain {

namespace {

using Sentences = std::vector<std::string>;

void check_at(const Point& at, const std::string& who, Sentences& out) {
  if (!std::isfinite(at.x) || !std::isfinite(at.y)) out.push_back(who + " has a place that is not a number");
}

void check_chamber(const Chamber& chamber, const std::string& who, Sentences& out) {
  if (!is_figure(chamber.area) || !std::isfinite(chamber.bottom) || !std::isfinite(chamber.top))
    out.push_back(who + " has a chamber whose figures are not numbers");
  else if (chamber.area > 0 && !(chamber.top > chamber.bottom))
    out.push_back(who + " has a chamber without a height");
  if (!is_figure(chamber.soak_conductivity) || !is_figure(chamber.soak_plan) ||
      !is_figure(chamber.soak_perimeter) || !std::isfinite(chamber.soak_top))
    out.push_back(who + " has a negative or endless figure for what soaks away");
}

void check_mouth(const std::optional<Mouth>& mouth, double chamber_area, const std::string& who,
                 Sentences& out) {
  if (!mouth) return;
  if (!(mouth->rim > 0) || !is_figure(mouth->rim) || !(mouth->area > 0) || !is_figure(mouth->area) ||
      !std::isfinite(mouth->level) || !is_figure(mouth->lift))
    out.push_back(who + " has an opening to the ground without a size");
  if (mouth->takes_in && !(chamber_area > 0))
    out.push_back(who + " takes water in from the ground but has no box under its grate");
}

// What stands outside a drowned outlet, or must be lifted at a pop-up.
void check_level(const Outlet& outlet, const std::string& who, Sentences& out) {
  if (outlet.kind == OutletKind::pop_up && (!is_figure(outlet.opening_head) || std::isnan(outlet.level) ||
                                            outlet.level == std::numeric_limits<double>::infinity()))
    out.push_back(who + " has a lid whose level or opening head is not a number");
  if (outlet.kind == OutletKind::submerged && outlet.levels.empty() && !std::isfinite(outlet.level))
    out.push_back(who + " has a level outside that is not a number");
  for (const double value : outlet.levels)
    if (!std::isfinite(value)) {
      out.push_back(who + " has a level outside that is not a number");
      break;
    }
}

void check_target(const Layout& layout, const std::string& to, const std::string& who, Sentences& out) {
  if (place_index(layout, to) < 0 && run_index(layout, to) < 0)
    out.push_back(who + " leads to \"" + to + "\", which is no run, fitting or outlet");
}

} // namespace

bool is_figure(double value) {
  return value >= 0 && std::isfinite(value);
}

int place_index(const Layout& layout, const std::string& name) {
  for (std::size_t f = 0; f < layout.fittings.size(); ++f)
    if (layout.fittings[f].name == name) return static_cast<int>(f);
  for (std::size_t o = 0; o < layout.outlets.size(); ++o)
    if (layout.outlets[o].name == name) return static_cast<int>(layout.fittings.size() + o);
  return -1;
}

int run_index(const Layout& layout, const std::string& name) {
  for (std::size_t r = 0; r < layout.runs.size(); ++r)
    if (layout.runs[r].name == name) return static_cast<int>(r);
  return -1;
}

void check_places(const Layout& layout, Sentences& out) {
  for (const Fitting& fitting : layout.fittings) {
    const std::string who = "fitting \"" + fitting.name + "\"";
    check_at(fitting.at, who, out);
    check_chamber(fitting.chamber, who, out);
    check_mouth(fitting.mouth, fitting.chamber.area, who, out);
    if (fitting.loss < 0 || std::isinf(fitting.loss)) // not a number: by the angle
      out.push_back(who + " has a negative or endless loss of head");
    if (fitting.link.to.empty()) continue;
    check_target(layout, fitting.link.to, who, out);
    if (fitting.link.to == fitting.name) out.push_back(who + " leads to itself");
    if (!(fitting.link.height > 0) || !is_figure(fitting.link.height) || !(fitting.link.capacity > 0) ||
        !is_figure(fitting.link.capacity) || !std::isfinite(fitting.link.invert))
      out.push_back(who + " has an opening into \"" + fitting.link.to + "\" without a size");
    if (!(fitting.chamber.area > 0)) out.push_back(who + " has a short pipe but no box");
  }
  for (const Outlet& outlet : layout.outlets) {
    const std::string who = "outlet \"" + outlet.name + "\"";
    const bool vessel = outlet.kind == OutletKind::dry_well || outlet.kind == OutletKind::pump;
    check_at(outlet.at, who, out);
    if (std::isinf(outlet.invert))
      out.push_back(who + " has an endless invert"); // not a number: that of its pipe
    check_level(outlet, who, out);
    check_chamber(outlet.chamber, who, out);
    check_mouth(outlet.mouth, outlet.chamber.area, who, out);
    if (vessel && !(outlet.chamber.area > 0)) out.push_back(who + " holds no water: it has no size");
    if (!vessel && outlet.chamber.area > 0)
      out.push_back(who + " has a chamber, which only a dry well or pump has");
    if (vessel && !outlet.mouth) out.push_back(who + " has no opening at its top to overflow by");
    if (outlet.kind == OutletKind::pump &&
        (!is_figure(outlet.pump.rate) || !std::isfinite(outlet.pump.on) ||
         std::isnan(outlet.pump.fails_from) || std::isnan(outlet.pump.fails_to) || !(outlet.pump.rate > 0) ||
         !(outlet.pump.on > outlet.pump.off) || !(outlet.pump.off >= outlet.chamber.bottom)))
      out.push_back(who + " needs a rate, and levels that start the pump above those that stop it");
    if (outlet.times.size() != outlet.levels.size())
      out.push_back(who + " has levels and times of different number");
    for (std::size_t k = 0; k < outlet.times.size(); ++k)
      if (!std::isfinite(outlet.times[k]) || (k > 0 && outlet.times[k] <= outlet.times[k - 1])) {
        out.push_back(who + " has levels at times that do not rise");
        break;
      }
    if (!is_figure(outlet.weep_area)) out.push_back(who + " has a negative or endless weep hole");
  }
  for (const Tap& tap : layout.taps) {
    const std::string who = "downspout \"" + tap.name + "\"";
    check_at(tap.at, who, out);
    check_target(layout, tap.to, who, out);
    check_mouth(tap.mouth, 1, who, out);
  }
}

} // namespace lowspot::drain
