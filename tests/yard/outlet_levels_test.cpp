#include <lowspot/yard/outlet_levels.hpp>

#include <lowspot/base/error.hpp>
#include <lowspot/yard/drain_layout.hpp>

#include "catch.hpp"
#include "simple_yard.hpp"

using namespace lowspot;

namespace {
constexpr double foot = 0.3048;

double level_ground(Point) {
  return 100 * foot;
}

SimpleYard yard_in_feet() {
  SimpleYard yard = simple_yard(80, 40, 0.5 * foot, [](double, double) { return 100 * foot; });
  yard.site.file = "site.toml";
  yard.site.units = "ft";
  yard.site.unit = foot;
  return yard;
}

// 20 ft of pipe from 98 ft to an outlet at `invert` feet; falls 1 % to 97.8 ft where `fall` says so.
site::Design to_outlet(const SimpleYard& yard, double invert, double fall = site::not_given) {
  site::Design design = simple_drain(yard);
  site::Run& run = design.runs[0];
  run.path = {{5 * foot, 10 * foot}, {25 * foot, 10 * foot}};
  run.trench_depth = 2 * foot + run.bedding;
  run.fall = fall;
  design.outlets[0].at = run.path.back();
  design.outlets[0].invert = invert * foot;
  design.outlets[0].line = 31;
  return design;
}

yard::ResolvedDrain resolved(const site::Design& design) {
  return yard::resolve_drain(yard_in_feet().site, design, level_ground);
}

bool said(const site::Design& design, const std::string& words) {
  for (const std::string& warning : resolved(design).warnings)
    if (warning.find(words) != std::string::npos) return true;
  return false;
}

InputError refused(const site::Design& design) {
  try {
    resolved(design);
  } catch (const InputError& error) {
    return error;
  }
  FAIL("nothing was refused");
  return InputError({}, "", "", "");
}
} // namespace

TEST_CASE("a run without a fall ends at its outlet's invert, and an odd fall is said") {
  const SimpleYard yard = yard_in_feet();
  const drain::Run run = resolved(to_outlet(yard, 97.5)).layout.runs[0];
  CHECK_THAT(run.inverts.front(), WithinAbs(98 * foot, 1e-9));
  CHECK_THAT(run.inverts.back(), WithinAbs(97.5 * foot, 1e-9));
  CHECK_FALSE(said(to_outlet(yard, 97.5), "laid to the invert"));
  CHECK(said(to_outlet(yard, 95), "falls 15 %"));
  CHECK(said(to_outlet(yard, 97.96), "bellies"));
}

TEST_CASE("an outlet below the foot of a run with its own fall is warned of in the yard's units") {
  const SimpleYard yard = yard_in_feet();
  CHECK(said(to_outlet(yard, 97.3, 0.01), "lies 6 in below the foot of run 'run', 97.8 ft"));
  CHECK_FALSE(said(to_outlet(yard, 97.79, 0.01), "below the foot"));
}

TEST_CASE("an outlet above its pipe is refused with both levels") {
  const SimpleYard yard = yard_in_feet();
  const InputError above_foot = refused(to_outlet(yard, 98, 0.01));
  CHECK(above_foot.where.line == 31);
  CHECK(above_foot.where.key == "design.outlet 'outlet'.invert");
  CHECK(above_foot.found == "98 ft, 2.4 in above the foot of run \"run\"");
  CHECK_THAT(above_foot.expected, ContainsSubstring("97.8 ft"));
  const InputError above_head = refused(to_outlet(yard, 98.5));
  CHECK_THAT(above_head.found, ContainsSubstring("6 in above the head of run \"run\""));
}

TEST_CASE("an invert far under the ground is a slip, whoever decides the fall") {
  const SimpleYard yard = yard_in_feet();
  for (const double fall : {site::not_given, 0.01}) {
    const InputError error = refused(to_outlet(yard, 9.75, fall));
    CHECK_THAT(error.found, ContainsSubstring("90.2 ft below the ground there (100 ft)"));
    CHECK_THAT(error.expected, ContainsSubstring("within 10 ft"));
  }
  CHECK_NOTHROW(resolved(to_outlet(yard, 90.5, 0.01)));
}

TEST_CASE("a run that begins above the foot of one that feeds it is told in the yard's units") {
  const SimpleYard yard = yard_in_feet();
  site::Design design = to_outlet(yard, 97.5);
  site::Run feeder = design.runs[0];
  feeder.name = "feeder";
  feeder.path = {{5 * foot, 2 * foot}, {5 * foot, 10 * foot}};
  feeder.inverts = {97.9 * foot, 97.75 * foot};
  feeder.to = "tee";
  design.runs[0].from = "tee";
  design.runs[0].inverts = {98 * foot, 97.5 * foot};
  design.fittings = {{"tee", {5 * foot, 10 * foot}}};
  design.runs.push_back(feeder);
  CHECK_THAT(refused(design).found,
             ContainsSubstring("\"run\" beginning 3 in above the foot of run \"feeder\""));
  design.as_dug = true;
  CHECK_NOTHROW(resolved(design));
}
