#include <lowspot/yard/outlet_levels.hpp>

#include <cmath>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/site/outlet_named.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::yard {
namespace {

constexpr double step_tolerance = 0.02;  // m between pipes that meet, as drain::problems() allows
constexpr double deepest_trench = 3.048; // m, 10 ft: more than any yard drain is dug
constexpr double steep = 0.1;            // m/m: a yard's pipe seldom falls more
constexpr double flat = 0.005;           // m/m: what a crew can hold

std::string level(const site::Site& site, double metres) {
  return rounded(metres / site.unit, 6) + " " + site.units;
}

std::string step_text(const site::Site& site, double metres) {
  return site::written(metres, Dimension::length, site);
}

[[noreturn]] void refuse(const site::Site& site, int line, const std::string& key, const std::string& found,
                         const std::string& expected, const std::string& mend) {
  throw InputError({site.file.string(), line, key}, found, expected, mend);
}

std::string invert_key(const site::Outlet& outlet) {
  return "design.outlet '" + outlet.name + "'.invert";
}

void refuse_too_deep(const site::Site& site, const site::Outlet& outlet, double ground) {
  const double below = ground - outlet.invert;
  if (below <= deepest_trench) return;
  refuse(site, outlet.line, invert_key(outlet),
         level(site, outlet.invert) + ", " + step_text(site, below) + " below the ground there (" +
             level(site, ground) + ")",
         "an elevation within " + step_text(site, deepest_trench) + " of the ground",
         "check the number, its decimal point and its benchmark");
}

void warn_of_drop(const site::Site& site, const site::Run& run, const site::Outlet& outlet, double foot,
                  std::vector<std::string>& warnings) {
  const double drop = foot - outlet.invert;
  if (outlet.kind == "dry well" || outlet.kind == "pump") return; // water falls into these by intent
  if (drop <= step_tolerance) return;
  warnings.push_back("outlet '" + outlet.name + "': its invert, " + level(site, outlet.invert) + ", lies " +
                     step_text(site, drop) + " below the foot of run '" + run.name + "', " +
                     level(site, foot) +
                     ": the pipe is laid to its own levels and its water drops out of it there; check the "
                     "number, or give the run no `fall` and no `inverts` to have it laid to the outlet");
}

void warn_of_made_fall(const site::Run& run, const drain::Run& built, std::vector<std::string>& warnings) {
  const double fall = (built.inverts.front() - built.inverts.back()) / length(built.path);
  const std::string who = "run '" + run.name + "': laid to the invert of '" + run.to + "' it falls " +
                          rounded(100 * fall, 2) + " %";
  if (fall > steep)
    warnings.push_back(who + ", steep for a yard's pipe, whose trench is then deep at its end; check that "
                             "invert");
  else if (fall < flat - 1e-9)
    warnings.push_back(who +
                       ": under 0.5 % a crew cannot hold the grade, so bellies will hold water and silt");
}

// No run begins above the foot of one that feeds it.
void check_onward(const site::Site& site, const site::Design& design, const std::vector<drain::Run>& built,
                  std::size_t r) {
  const site::Run& run = design.runs[r];
  const double foot = built[r].inverts.back();
  std::size_t next = design.runs.size();
  for (std::size_t j = 0; j < design.runs.size(); ++j)
    if (!run.to.empty() && design.runs[j].from == run.to &&
        (next == design.runs.size() || built[j].inverts.front() < built[next].inverts.front()))
      next = j;
  if (next == design.runs.size()) return;
  const double step = built[next].inverts.front() - foot;
  if (step > step_tolerance)
    refuse(site, design.runs[next].line, "design.run '" + design.runs[next].name + "'",
           "run \"" + design.runs[next].name + "\" beginning " + step_text(site, step) +
               " above the foot of run \"" + run.name + "\", which feeds it",
           "a head at or below " + level(site, foot),
           "dig it deeper, or raise the foot of \"" + run.name + "\"");
}

} // namespace

double fall_to_outlet(const site::Site& site, const site::Design& design, const site::Run& run,
                      double head_invert, const std::function<double(Point)>& ground_at) {
  const site::Outlet* outlet = outlet_named(design, run.to);
  if (!outlet || !std::isfinite(outlet->invert)) return 0.01;
  refuse_too_deep(site, *outlet, ground_at(outlet->at));
  if (outlet->invert > head_invert + 1e-9)
    refuse(site, outlet->line, invert_key(*outlet),
           level(site, outlet->invert) + ", " + step_text(site, outlet->invert - head_invert) +
               " above the head of run \"" + run.name + "\", which leads there",
           "an invert below that head, " + level(site, head_invert),
           "lower the outlet, or make the trench shallower at its head");
  return (head_invert - outlet->invert) / length(run.path);
}

void check_outlet_levels(const site::Site& site, const site::Design& design,
                         const std::vector<drain::Run>& built, const std::function<double(Point)>& ground_at,
                         std::vector<std::string>& warnings) {
  for (std::size_t r = 0; r < design.runs.size(); ++r) {
    const site::Run& run = design.runs[r];
    const double foot = built[r].inverts.back();
    if (!design.as_dug) check_onward(site, design, built, r);
    const site::Outlet* outlet = outlet_named(design, run.to);
    if (!outlet || !std::isfinite(outlet->invert)) continue;
    refuse_too_deep(site, *outlet, ground_at(outlet->at));
    if (outlet->invert > foot + step_tolerance)
      refuse(site, outlet->line, invert_key(*outlet),
             level(site, outlet->invert) + ", " + step_text(site, outlet->invert - foot) +
                 " above the foot of run \"" + run.name + "\"",
             "an outlet at or below " + level(site, foot),
             "lower the outlet, or give the run no `fall` and no `inverts` to have it laid to the outlet");
    if (run.inverts.empty() && !std::isfinite(run.fall))
      warn_of_made_fall(run, built[r], warnings);
    else
      warn_of_drop(site, run, *outlet, foot, warnings);
  }
}

} // namespace lowspot::yard
