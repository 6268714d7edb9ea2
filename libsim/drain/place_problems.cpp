#include <lowspot/drain/place_problems.hpp>

#include <cmath>

namespace lowspot::drain {

namespace {

using Sentences = std::vector<std::string>;

void check_chamber(const Chamber& chamber, const std::string& who, Sentences& out) {
  if (!(chamber.area >= 0) || !std::isfinite(chamber.bottom) || !std::isfinite(chamber.top))
    out.push_back(who + " has a chamber whose figures are not numbers");
  else if (chamber.area > 0 && !(chamber.top > chamber.bottom))
    out.push_back(who + " has a chamber without a height");
  if (!(chamber.soak_conductivity >= 0) || !(chamber.soak_plan >= 0) || !(chamber.soak_perimeter >= 0))
    out.push_back(who + " has a negative figure for what soaks away");
}

void check_mouth(const std::optional<Mouth>& mouth, double chamber_area, const std::string& who,
                 Sentences& out) {
  if (!mouth) return;
  if (!(mouth->rim > 0) || !(mouth->area > 0) || !std::isfinite(mouth->level) || !(mouth->lift >= 0))
    out.push_back(who + " has an opening to the ground without a size");
  if (mouth->takes_in && !(chamber_area > 0))
    out.push_back(who + " takes water in from the ground but has no box under its grate");
}

void check_target(const Layout& layout, const std::string& to, const std::string& who, Sentences& out) {
  if (place_index(layout, to) < 0 && run_index(layout, to) < 0)
    out.push_back(who + " leads to \"" + to + "\", which is no run, fitting or outlet");
}

} // namespace

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
    check_chamber(fitting.chamber, who, out);
    check_mouth(fitting.mouth, fitting.chamber.area, who, out);
    if (fitting.loss < 0) out.push_back(who + " has a negative loss of head");
    if (fitting.link.to.empty()) continue;
    check_target(layout, fitting.link.to, who, out);
    if (fitting.link.to == fitting.name) out.push_back(who + " leads to itself");
    if (!(fitting.link.height > 0) || !(fitting.link.capacity > 0))
      out.push_back(who + " has an opening into \"" + fitting.link.to + "\" without a size");
    if (!(fitting.chamber.area > 0)) out.push_back(who + " has a short pipe but no box");
  }
  for (const Outlet& outlet : layout.outlets) {
    const std::string who = "outlet \"" + outlet.name + "\"";
    const bool vessel = outlet.kind == OutletKind::dry_well || outlet.kind == OutletKind::pump;
    check_chamber(outlet.chamber, who, out);
    check_mouth(outlet.mouth, outlet.chamber.area, who, out);
    if (vessel && !(outlet.chamber.area > 0)) out.push_back(who + " holds no water: it has no size");
    if (!vessel && outlet.chamber.area > 0)
      out.push_back(who + " has a chamber, which only a dry well or pump has");
    if (vessel && !outlet.mouth) out.push_back(who + " has no opening at its top to overflow by");
    if (outlet.kind == OutletKind::pump && (!(outlet.pump.rate > 0) || !(outlet.pump.on > outlet.pump.off) ||
                                            !(outlet.pump.off >= outlet.chamber.bottom)))
      out.push_back(who + " needs a rate, and levels that start the pump above those that stop it");
    if (outlet.times.size() != outlet.levels.size())
      out.push_back(who + " has levels and times of different number");
    for (std::size_t k = 1; k < outlet.times.size(); ++k)
      if (!(outlet.times[k] > outlet.times[k - 1])) {
        out.push_back(who + " has levels at times that do not rise");
        break;
      }
    if (!(outlet.weep_area >= 0)) out.push_back(who + " has a negative weep hole");
  }
  for (const Tap& tap : layout.taps) {
    const std::string who = "downspout \"" + tap.name + "\"";
    check_target(layout, tap.to, who, out);
    check_mouth(tap.mouth, 1, who, out);
  }
}

} // namespace lowspot::drain
