#include <lowspot/checks/run_checks.hpp>

#include <lowspot/drain/pipe_section.hpp>

#include "round_yard.hpp"

using namespace lowspot;
using namespace lowspot::checks;

namespace {
constexpr double end_of_rain = 3600; // s

// Whether the checks of a run can be asked for with these.
template <class... Given>
concept can_be_judged_by = requires(Given... given) {
  check_run(given...);
};

results::DesignRecord carrying(double flow, double volume = 1) {
  results::DesignRecord record;
  results::DrainRecord drain;
  drain.name = "main";
  drain.peak_flow = flow;
  drain.full_flow_capacity = 0.004;
  record.drains = {drain};
  record.edges = {{"west", 0, 0}, {"east", 0.002, 3}, {"south", 0, 0}, {"north", 0, 0}};
  record.outlets = {{"fence", flow, volume}};
  record.ledger.left_by_drains = volume;
  return record;
}
} // namespace

TEST_CASE("speed in a pipe: full, half full, and at a free end") {
  // Half full it runs as fast as full (the hydraulic radius is the same).
  const double d = 0.1, n = 0.015, fall = 0.01, area = M_PI * d * d / 4;
  const double full = std::pow(d / 4, 2.0 / 3) * std::sqrt(fall) / n;
  CHECK(pipe_velocity(d, n, fall, full * area / 2) == Approx(full).epsilon(1e-6));
  CHECK(pipe_velocity(d, n, fall, 2 * full * area) == Approx(2 * full).epsilon(1e-6)); // under pressure
  // At critical depth the speed is sqrt(g A / T), which a mild pipe's end reaches.
  const double flow = 0.5 * full * area, yc = drain::critical_depth(d, flow);
  const double critical = std::sqrt(9.81 * drain::wetted_area(d, yc) / drain::top_width(d, yc));
  CHECK(end_velocity(d, n, 0.0001, flow) == Approx(critical).epsilon(1e-6));
  CHECK(end_velocity(d, n, 0.2, flow) > critical); // steep: uniform flow
}

TEST_CASE("the end of the rain cannot be left out: what is empty in time is counted from it") {
  STATIC_REQUIRE(can_be_judged_by<site::Site, terrain::Ground, site::Design, results::DesignRecord,
                                  results::DesignRecord, double>);
  STATIC_REQUIRE_FALSE(can_be_judged_by<site::Site, terrain::Ground, site::Design, results::DesignRecord,
                                        results::DesignRecord>);
}

TEST_CASE("how full, how fast, how fast at the outlet") {
  SimpleYard yard = level_yard();
  yard.site.soils[0].texture = "silt loam";
  const site::Design design = round_design();
  const auto as_is = carrying(0);
  auto list = check_run(yard.site, yard.ground, design, as_is, carrying(0.003), end_of_rain);
  CHECK(the(list, "pipe_full").found_value == Approx(0.75));
  CHECK(outcome(the(list, "pipe_full")) == "pass");
  CHECK_THAT(the(list, "pipe_full").found, !ContainsSubstring("stands full"));
  auto backed_up = carrying(0.003); // by a dry well that is full
  backed_up.drains[0].surcharged = 70 * 3600.0;
  CHECK_THAT(the(check_run(yard.site, yard.ground, design, as_is, backed_up, end_of_rain), "pipe_full").found,
             ContainsSubstring("yet it stands full for 70 h, backed up"));
  CHECK(outcome(the(list, "silting")) == "pass");
  CHECK(the(list, "silting").limit == "at least 1.4 ft/s"); // open stone: silt gets in
  CHECK(outcome(the(list, "outlet_velocity")) == "pass");
  CHECK(the(list, "outlet_velocity").limit == "at most 5 ft/s");
  list = check_run(yard.site, yard.ground, design, as_is, carrying(0.0035), end_of_rain);
  CHECK(outcome(the(list, "pipe_full")) == "fail");
  CHECK(outcome(the(check_run(yard.site, yard.ground, design, as_is, carrying(1e-4), end_of_rain),
                    "silting")) == "fail");
  site::Design capped = design;
  capped.runs[0].cap.depth = 0.1; // all water passes the cap and fabric
  CHECK(the(check_run(yard.site, yard.ground, capped, as_is, carrying(1e-4), end_of_rain), "silting").limit ==
        "at least 0.5 ft/s");
  CHECK(outcome(the(check_run(yard.site, yard.ground, design, as_is, carrying(0), end_of_rain), "silting")) ==
        "unknown");
}

TEST_CASE("water leaves a free end by the fall of the pipe there, or of a steeper piece just above") {
  const SimpleYard yard = level_yard();
  const double flow = 0.002;
  const auto speed = [&](double bend, double at_bend, double foot_invert) {
    site::Design design = round_design(98.9, foot_invert);
    design.runs[0].path = {{10 * foot, 10 * foot}, {(10 + bend) * foot, 10 * foot}, {110 * foot, 10 * foot}};
    design.runs[0].inverts = {98.9 * foot, at_bend * foot, foot_invert * foot};
    return the(check_run(yard.site, yard.ground, design, carrying(0), carrying(flow), end_of_rain),
               "outlet_velocity");
  };
  const auto uniform = [&](double fall) { return end_velocity(4 * inch, 0.015, fall, flow); };
  // 80 ft at 1 %, then 20 ft at 5 %: half as fast again and more at the end.
  const auto steep = speed(80, 98.1, 97.1);
  CHECK(steep.found_value == Approx(uniform(0.05)).epsilon(1e-6));
  CHECK(steep.found_value > 1.5 * uniform(0.01));
  CHECK_THAT(steep.found, ContainsSubstring("falls 5 % near its end"));
  // Steep first: after 50 ft at 1 % its water has slowed down.
  CHECK(speed(50, 97.4, 96.9).found_value == Approx(uniform(0.01)).epsilon(1e-6));
  // After 5 ft at 1 % it has not (50 diameters are 16.7 ft).
  CHECK(speed(95, 97.0, 96.95).found_value == Approx(uniform(0.02)).epsilon(1e-6));
}

TEST_CASE("the steep leg above a short end counts as well") {
  const SimpleYard yard = level_yard();
  site::Design design = round_design(97.6, 97.5);
  design.runs[0].path = {{100 * foot, 10 * foot}, {110 * foot, 10 * foot}};
  design.runs[0].from = "tee";
  design.fittings = {{"tee", {100 * foot, 10 * foot}}};
  site::Run leg = design.runs[0];
  leg.name = "leg", leg.from = "", leg.to = "tee";
  leg.path = {{80 * foot, 10 * foot}, {100 * foot, 10 * foot}};
  leg.inverts = {98.6 * foot, 97.6 * foot};
  design.runs.push_back(leg);
  const auto record =
      the(check_run(yard.site, yard.ground, design, carrying(0), carrying(0.002), end_of_rain),
          "outlet_velocity");
  CHECK(record.found_value == Approx(end_velocity(4 * inch, 0.015, 0.05, 0.002)).epsilon(1e-6));
}

TEST_CASE("roof water brings silt whether the design or the site file leads it in") {
  SimpleYard yard = level_yard();
  site::Design design = round_design();
  design.runs[0].cap.depth = 0.1; // all else passes the cap and fabric
  const auto limit = [&] {
    return the(check_run(yard.site, yard.ground, design, carrying(0), carrying(1e-4), end_of_rain), "silting")
        .limit;
  };
  yard.site.buildings.resize(1);
  yard.site.buildings[0].downspouts.resize(1);
  site::Downspout& spout = yard.site.buildings[0].downspouts[0];
  spout.name = "spout", spout.to = "ground";
  CHECK(limit() == "at least 0.5 ft/s");
  spout.to = "main";
  CHECK(limit() == "at least 1.4 ft/s");
  design.downspouts = {{"spout", "ground", 0}};
  CHECK(limit() == "at least 0.5 ft/s");
  spout.to = "ground";
  design.downspouts[0].to = "main";
  CHECK(limit() == "at least 1.4 ft/s");
  // Stone open to the sky lets silt in, whatever depth its figures give it.
  design.downspouts[0].to = "ground";
  CHECK(limit() == "at least 0.5 ft/s");
  design.runs[0].cap.of_stone = true;
  CHECK(limit() == "at least 1.4 ft/s");
}

TEST_CASE("what an outlet sends over the limit counts with its side") {
  SimpleYard yard = level_yard();
  site::Design design = round_design();
  design.runs[0].path[1].x = design.outlets[0].at.x = 120 * foot; // on the east side
  results::DesignRecord as_is = carrying(0, 0);
  results::DesignRecord after = carrying(0.001, 1);
  auto east =
      the(check_run(yard.site, yard.ground, design, as_is, after, end_of_rain), "neighbour_increase", "east");
  CHECK(outcome(east) == "fail");
  CHECK(east.found_value == Approx(0.5)); // 3 mm3/s against 2
  after.edges[1] = {"east", 0.0009, 1.9};
  east =
      the(check_run(yard.site, yard.ground, design, as_is, after, end_of_rain), "neighbour_increase", "east");
  CHECK(outcome(east) == "pass");
  // What cannot be told from none, and what can.
  for (const auto& [peak, said] : {std::pair{0.00108, "pass"}, std::pair{0.0012, "fail"}}) {
    after.edges[1] = {"east", peak, 1.9};
    CHECK(outcome(the(check_run(yard.site, yard.ground, design, as_is, after, end_of_rain),
                      "neighbour_increase", "east")) == said);
  }
  // A side over which nothing went before.
  after.edges[2] = {"south", 0.0001, 0.5};
  CHECK(outcome(the(check_run(yard.site, yard.ground, design, as_is, after, end_of_rain),
                    "neighbour_increase", "south")) == "fail");
  design.outlets[0].at.x = 100 * foot; // inside: what it sheds crosses the edge by itself, if it does
  design.runs[0].path[1].x = 100 * foot;
  east = the(check_run(yard.site, yard.ground, design, as_is, carrying(0.001, 1), end_of_rain),
             "neighbour_increase", "east");
  CHECK(outcome(east) == "pass");
}

TEST_CASE("water of a hose counts once: where it crosses the edge, or as unknown where it ends outside") {
  SimpleYard yard = level_yard();
  site::Design design = round_design();
  design.outlets[0].kind = "pump";
  design.outlets[0].well = {0.2, 1.6, 4 * foot, 1, site::not_given};
  design.outlets[0].pump_rate = 1e-3, design.outlets[0].pump_on = 0.3, design.outlets[0].pump_off = 0.1;
  design.outlets[0].discharge = Point{119.8 * foot, 20 * foot}; // the edge has it once it has run over
  const results::DesignRecord as_is = carrying(0, 0), after = carrying(0.002, 3);
  const auto east =
      the(check_run(yard.site, yard.ground, design, as_is, after, end_of_rain), "neighbour_increase", "east");
  CHECK(outcome(east) == "pass");
  CHECK(east.found_value == Approx(0).margin(1e-12));
  design.outlets[0].discharge.reset();
  design.outlets[0].at.x = design.runs[0].path[1].x =
      120 * foot; // the pit is near the side, the hose's end anywhere
  const auto list = check_run(yard.site, yard.ground, design, as_is, after, end_of_rain);
  CHECK(outcome(the(list, "neighbour_increase", "east")) == "pass");
  CHECK(outcome(the(list, "neighbour_increase", "outside the yard")) == "unknown");
}

TEST_CASE("water that leaves is told as the pages tell it: litres in metric yards, gallons in others") {
  SimpleYard yard = level_yard();
  const site::Design design = round_design();
  const results::DesignRecord as_is = carrying(0.001, 1.5), after = carrying(0.001, 1.5);
  for (const auto& [units, amount] :
       {std::pair{"m", "in all 3000 L before"}, {"ft", "in all 793 gal before"}}) {
    yard.site.units = units;
    const auto east = the(check_run(yard.site, yard.ground, design, as_is, after, end_of_rain),
                          "neighbour_increase", "east");
    CHECK_THAT(east.found, ContainsSubstring(amount));
  }
}

TEST_CASE("of the peak and the volume that a neighbour gets, the one that grew more stands first") {
  const SimpleYard yard = level_yard();
  const auto found = [&](double peak, double volume) {
    results::DesignRecord after = carrying(0);
    after.edges[1] = {"east", peak, volume}; // 2 L/s and 3 m3 before
    return the(check_run(yard.site, yard.ground, round_design(), carrying(0), after, end_of_rain),
               "neighbour_increase", "east")
        .found;
  };
  CHECK(found(0.00201, 6).rfind("in all ", 0) == 0);
  CHECK(found(0.006, 3.01).rfind("at once ", 0) == 0);
}

TEST_CASE("a carrier of an earlier stage is judged with what a later stage leads into it") {
  const SimpleYard yard = level_yard();
  site::Design design = round_design();
  design.runs[0].from = "tee";
  design.fittings = {{"tee", {10 * foot, 10 * foot}}};
  site::Run leg = design.runs[0];
  leg.name = "leg", leg.from = "", leg.to = "tee";
  leg.path = {{10 * foot, 30 * foot}, {10 * foot, 10 * foot}};
  leg.inverts = {98.9 * foot, 98.5 * foot};
  design.runs.push_back(leg);
  design.after = "first";
  design.standing = {"main", "tee", "fence"};
  const auto list = check_run(yard.site, yard.ground, design, carrying(0), carrying(0.006), end_of_rain);
  CHECK(outcome(the(list, "pipe_full", "main")) == "fail"); // half as much again as it can carry
  CHECK(the(list, "pipe_full", "main").found_value == Approx(1.5));
  the(list, "silting", "main");
  the(list, "outlet_velocity", "fence");
}

TEST_CASE("what leaves through the soil is in no side, and is said where it grew") {
  const SimpleYard yard = level_yard();
  results::DesignRecord as_is = carrying(0, 0), after = carrying(0.001, 1);
  const auto east = [&] {
    return the(check_run(yard.site, yard.ground, round_design(), as_is, after, end_of_rain),
               "neighbour_increase", "east")
        .found;
  };
  CHECK_THAT(east(), !ContainsSubstring("through the soil"));
  as_is.ledger.left_underground = 0.1, after.ledger.left_underground = 0.5;
  CHECK_THAT(east(),
             ContainsSubstring("through the soil, at all sides together 26.4 gal before, 132 gal after"));
}
