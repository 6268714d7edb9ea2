// Cases with exact answers, through the command line as a user would run them.
#include "catch.hpp"

#include <cmath>
#include <unistd.h>

#include "journeys/program.hpp"

using journey::fs::path;

namespace {
// Writes a site, compares it and returns the folder of the results.
path compared(const std::string& name, const std::string& site, const std::string& levels) {
  const path folder = journey::fresh_folder(name);
  journey::write(folder / "site.toml", site);
  journey::write(folder / "levels.csv", levels);
  const journey::Answer answer = journey::run({"compare", folder.string(), "--quiet"});
  INFO(answer.err);
  REQUIRE(answer.code == 0);
  return folder / "results";
}
nlohmann::json as_is(const path& results) {
  return journey::json_file(results / "summary.json")["designs"][0];
}
} // namespace

TEST_CASE("block rain on a hard plane: rise, equilibrium and recession (Woolhiser and Liggett 1967)") {
  // 30 x 5 m, slope 0.01, n 0.025, 50 mm/h for 1800 s: Q_e 2.083333 L/s reached at 293.744 s.
  const path results =
      compared("plane",
               "[site]\nname='plane'\nunits='m'\noutline=[[0,0],[30,0],[30,5],[0,5]]\ncell='0.5 m'\n"
               "[ground]\nlevels='levels.csv'\n[edges]\ndefault='wall'\neast='open'\n"
               "[[area]]\nname='plane'\nmanning_n=0.025\nimpervious=true\ndepression_storage='0 mm'\n"
               "outline=[[0,0],[30,0],[30,5],[0,5]]\n"
               "[storm]\nblocks=[['30 min','50 mm/hr']]\npattern='blocks'\nreference_et='0 mm/d'\n"
               "[run]\nuntil='3600 s'\noutput_every='60 s'\n",
               journey::plane_levels(30, 5, 0.01));
  const auto time = journey::column(results / "hydrographs.csv", "time_s");
  const auto flow = journey::column(results / "hydrographs.csv", "as is:edges_m3_per_s");
  const double alpha = 4, m = 5.0 / 3, rain = 0.05 / 3600, full = rain * 30 * 5;
  for (std::size_t k = 0; k < time.size(); ++k) {
    double exact = -1;
    if (time[k] <= 240)
      exact = 5 * alpha * std::pow(rain * time[k], m);
    else if (time[k] >= 420 && time[k] <= 1800)
      exact = full;
    if (exact < 0) continue;
    INFO("time " << time[k]);
    CHECK(std::abs(flow[k] - exact) < (time[k] >= 420 ? 0.001 : 0.02) * full);
  }
  // Recession: 1.018123 L/s at 1920 s, 0.491408 at 2040 s, 0.087516 at 2400 s.
  for (const auto& [at, exact] : {std::pair{1920, 1.018123e-3}, {2040, 0.491408e-3}, {2400, 0.087516e-3}})
    CHECK(std::abs(flow[at / 60] - exact) < 0.02 * full);
  const auto design = as_is(results);
  CHECK(std::abs(design["ledger"]["rain_m3"].get<double>() - 3.75) < 1e-9);
  CHECK(std::abs(design["ledger"]["closure_m3"].get<double>()) < 1e-9 * 3.75);
}

TEST_CASE("a hard plane aslant to the cells sheds as one that lies along them") {
  // 30 x 20 m turned by 30 degrees and paved to its limits, which cut cells on all sides: what lies beyond
  // them must not count. Slope 0.01, n 0.025, 50 mm/h: 8.333333 L/s from 293.744 s on. The error of 1.5 % on
  // the rise is of the two walls along the slope, which the cells follow in steps; it falls with their size.
  const auto place = [](double x, double y) {
    const double c = std::sqrt(0.75), s = 0.5;
    return std::to_string(c * x - s * y) + "," + std::to_string(s * x + c * y);
  };
  const std::string outline =
      "[[" + place(0, 0) + "],[" + place(30, 0) + "],[" + place(30, 20) + "],[" + place(0, 20) + "]]";
  std::string levels = "x,y,elevation\n";
  for (double x : {0.0, 15.0, 30.0})
    for (double y : {0.0, 20.0}) levels += place(x, y) + "," + std::to_string(10 - 0.01 * x) + "\n";
  const path results = compared("aslant",
                                "[site]\nname='aslant'\nunits='m'\noutline=" + outline +
                                    "\ncell='0.5 m'\n[ground]\nlevels='levels.csv'\n[edges]\ndefault='wall'\n"
                                    "[[edges.part]]\nkind='open'\nfrom=[" +
                                    place(30, 0) + "]\nto=[" + place(30, 20) +
                                    "]\n[[area]]\nname='plane'\nmanning_n=0.025\nimpervious=true\n"
                                    "depression_storage='0 mm'\noutline=" +
                                    outline +
                                    "\n[storm]\nblocks=[['30 min','50 mm/hr']]\npattern='blocks'\n"
                                    "reference_et='0 mm/d'\n[run]\nuntil='1800 s'\noutput_every='60 s'\n",
                                levels);
  const auto flow = journey::column(results / "hydrographs.csv", "as is:edges_m3_per_s");
  const double alpha = 4, m = 5.0 / 3, rain = 0.05 / 3600, full = rain * 30 * 20;
  for (std::size_t k = 1; k <= 4; ++k)
    CHECK_THAT(flow[k],
               WithinAbs(20 * alpha * std::pow(rain * 60.0 * static_cast<double>(k), m), 0.02 * full));
  for (std::size_t k = 8; k < 30; ++k) CHECK_THAT(flow[k], WithinRel(full, 0.001));
  const auto ledger = as_is(results)["ledger"];
  CHECK_THAT(ledger["rain_m3"].get<double>(), WithinRel(rain * 1800 * 30 * 20, 0.001));
  CHECK(ledger["infiltrated_m3"].get<double>() < 1e-9);
}

TEST_CASE("a closed basin soaks away as Green and Ampt's falling head says") {
  // K 10 mm/h, suction 0.11 m, deficit 0.30, rain 40 mm/h for 1.5 h: ponds at 990 s, 19.255 mm at the end of
  // the rain, gone 9435.9 s after the start (ponded head in the law).
  const path results = compared(
      "soak",
      "[site]\nname='basin'\nunits='m'\noutline=[[0,0],[4,0],[4,4],[0,4]]\ncell='0.5 m'\n"
      "[ground]\nlevels='levels.csv'\n[edges]\ndefault='wall'\n"
      "[[soil]]\nname='deep'\n"
      "topsoil={depth='5 m',conductivity='10 mm/hr',porosity=0.45,field_capacity=0.15,wilting_point=0.05,"
      "wetting_front_suction='0.11 m',initial_moisture=0.15,drainable_porosity=0.30,pore_size_index=0.3}\n"
      "tight_layer={conductivity='10 mm/hr'}\n"
      "[[area]]\nname='ground'\nmanning_n=0.05\ndepression_storage='0 mm'\nsoil='deep'\n"
      "outline=[[0,0],[4,0],[4,4],[0,4]]\n"
      "[[gauge]]\nname='middle'\nat=[2,2]\n"
      "[storm]\npattern='blocks'\nblocks=[['90 min','40 mm/hr']]\nreference_et='0 mm/d'\n"
      "[target]\nstanding_depth='0.01 mm'\n"
      "[run]\nuntil='12000 s'\noutput_every='30 s'\n",
      journey::plane_levels(4, 4, 0));
  const auto depth = journey::column(results / "hydrographs.csv", "as is:gauge:middle_m");
  CHECK_THAT(depth[5400 / 30], WithinRel(0.0192550, 0.01));
  CHECK(depth[960 / 30] < 1e-9);
  CHECK(depth[1080 / 30] > 1e-5);
  const auto design = as_is(results);
  CHECK_THAT(design["gauges"][0]["standing_hours_after_rain"].get<double>(),
             WithinRel((9435.905 - 5400) / 3600, 0.01));
  CHECK(std::abs(design["ledger"]["closure_m3"].get<double>()) < 1e-9 * 0.96);
}

TEST_CASE("a perched table leaks through a tight layer of stated thickness, free draining below") {
  // S 0.10, K 2 mm/d, b 0.20 m, H 0.50 m: 0.433386, 0.373112, 0.224571 m after 1, 2, 5 days.
  const path results = compared(
      "leak",
      "[site]\nname='leak'\nunits='m'\noutline=[[0,0],[3,0],[3,3],[0,3]]\ncell='0.5 m'\n"
      "[ground]\nlevels='levels.csv'\n[edges]\ndefault='wall'\n"
      "[[soil]]\nname='s'\nperched='0.50 m'\n"
      "topsoil={depth='0.8 m',conductivity='10 mm/hr',porosity=0.45,field_capacity=0.35,wilting_point=0.1,"
      "wetting_front_suction='0.11 m',initial_moisture=0.35,drainable_porosity=0.10,pore_size_index=0.3}\n"
      "tight_layer={conductivity='2 mm/d',thickness='0.20 m'}\n"
      "[[area]]\nname='ground'\nmanning_n=0.05\nsoil='s'\noutline=[[0,0],[3,0],[3,3],[0,3]]\n"
      "[[gauge]]\nname='middle'\nat=[1.5,1.5]\n"
      "[storm]\npattern='blocks'\nblocks=[['1 min','0 mm/hr']]\nreference_et='0 mm/d'\n"
      "[run]\nuntil='5 d'\noutput_every='6 hr'\n",
      journey::plane_levels(3, 3, 0));
  const auto perched = journey::column(results / "hydrographs.csv", "as is:gauge:middle:perched_m");
  CHECK_THAT(perched[4], WithinRel(0.433386, 5e-3));
  CHECK_THAT(perched[8], WithinRel(0.373112, 5e-3));
  CHECK_THAT(perched[20], WithinRel(0.224571, 5e-3));
}

TEST_CASE("standing time in a flat closed basin of constant intake") {
  // Suction 0 and a deep soil: intake stays at K = 10 mm/h plus the small head over a deep front. Rain 40
  // mm/h for 1 h: dry 4 h after the start, deeper than 5 mm for 3.3333 h, 10 mm for 2.6667 h.
  for (const auto& [limit, hours] : {std::pair{"5 mm", 2.5}, {"10 mm", 2.0}}) {
    const path results = compared(
        "standing",
        std::string(
            "[site]\nname='flat'\nunits='m'\noutline=[[0,0],[4,0],[4,4],[0,4]]\ncell='1 m'\n"
            "[ground]\nlevels='levels.csv'\n[edges]\ndefault='wall'\n"
            "[[soil]]\nname='deep'\n"
            "topsoil={depth='20 m',conductivity='10 "
            "mm/hr',porosity=0.45,field_capacity=0.43,wilting_point=0.05,"
            "wetting_front_suction='0 m',initial_moisture=0.43,drainable_porosity=0.02,pore_size_index=0.3}\n"
            "tight_layer={conductivity='10 mm/hr'}\n"
            "[[area]]\nname='ground'\nmanning_n=0.05\ndepression_storage='0 mm'\nsoil='deep'\n"
            "outline=[[0,0],[4,0],[4,4],[0,4]]\n"
            "[[gauge]]\nname='middle'\nat=[2,2]\n"
            "[storm]\npattern='blocks'\nblocks=[['60 min','40 mm/hr']]\nreference_et='0 mm/d'\n"
            "[target]\nstanding_depth='") +
            limit + "'\n[run]\nuntil='6 hr'\noutput_every='5 min'\n",
        journey::plane_levels(4, 4, 0));
    const auto design = as_is(results);
    CHECK_THAT(design["gauges"][0]["standing_hours_after_rain"].get<double>(), WithinAbs(hours, 10.0 / 60));
  }
}
