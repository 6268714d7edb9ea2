#include <numbers>

#include <lowspot/site/read_outlet.hpp>

#include "sample.hpp"

using namespace sample;

namespace {
const std::string head = "[[design]]\nname = \"d\"\n[[design.run]]\nname = \"leg\"\npath = [[10, 20], [60, "
                         "20]]\npipe = \"3 in corrugated, slotted\"\n";
std::string outlet(const std::string& more) {
  return yard(head + "[[design.outlet]]\nname = \"out\"\nat = [60, 20]\n" + more);
}
site::Outlet read_one(const std::string& more) {
  return read(outlet(more)).designs.at(0).outlets.at(0);
}
} // namespace

TEST_CASE("a dry well is sized by any two of volume, diameter and depth") {
  const site::Outlet well = read_one("kind = \"dry well\"\ndiameter = \"4 ft\"\ndepth = \"5 ft\"\n");
  const double plan = std::numbers::pi / 4 * std::pow(4 * 0.3048, 2);
  CHECK_THAT(well.well.plan, WithinRel(plan, 1e-12));
  CHECK_THAT(well.well.perimeter, WithinRel(std::numbers::pi * 4 * 0.3048, 1e-12));
  CHECK(well.well.depth == Approx(5 * 0.3048));
  CHECK(well.well.void_share == 0.4);
  CHECK(std::isnan(well.well.conductivity));
  const site::Outlet own = read_one("kind = \"dry well\"\nvolume = \"2 m3\"\ndepth = \"1 m\"\nvoid_share = "
                                    "0.95\nconductivity = \"0.5 in/hr\"\n");
  CHECK_THAT(own.well.plan, WithinRel(2.0, 1e-12));
  CHECK(own.well.void_share == 0.95);
  CHECK_THAT(own.well.conductivity, WithinRel(0.0127 / 3600, 1e-9));
  CHECK_THAT(
      error_of(outlet("kind = \"dry well\"\nvolume = \"2 m3\"\ndiameter = \"1 m\"\ndepth = \"1 m\"\n")).found,
      ContainsSubstring("do not agree"));
}

TEST_CASE("a pump needs a rate and levels in order") {
  const std::string kind = "kind = \"pump\"\nrate = \"20 gal/min\"\n";
  const site::Outlet pump = read_one(kind + "outage = { from = \"2 hr\", to = \"6 hr\" }\n");
  CHECK_THAT(pump.pump_rate, WithinRel(20 * 6.30902e-5, 1e-5));
  CHECK(pump.pump_on == Approx(0.3048));
  CHECK(pump.pump_off == Approx(4 * 0.0254));
  CHECK(pump.fails_from == 7200);
  CHECK(pump.fails_to == 21600);
  CHECK(!pump.discharge);
  CHECK(error_of(outlet("kind = \"pump\"\n")).where.key.ends_with("rate"));
  CHECK_THAT(error_of(outlet(kind + "off = \"0 in\"\n")).mend, ContainsSubstring("never stops"));
  CHECK_THAT(error_of(outlet(kind + "on = \"3 in\"\noff = \"5 in\"\n")).mend,
             ContainsSubstring("starts at `on`"));
  CHECK_THAT(error_of(outlet(kind + "on = \"40 in\"\n")).expected, ContainsSubstring("basin's depth"));
  CHECK_THAT(error_of(outlet(kind + "outage = { from = \"6 hr\", to = \"2 hr\" }\n")).expected,
             ContainsSubstring("from earlier than to"));
}

TEST_CASE("the level outside may come from a table of time and level, in the site's units") {
  Folder folder;
  folder.write("levels.csv", "x,y,elevation\n0,0,100\n60,0,100\n60,40,100\n0,40,100\n");
  folder.write("ditch.csv", "time,level\n0,97\n3600,98.5\n7200,97\n");
  const site::Outlet out =
      read(outlet("kind = \"submerged\"\nlevel = \"ditch.csv\"\n"), folder).designs.at(0).outlets.at(0);
  REQUIRE(out.levels.size() == 3);
  CHECK(out.times[1] == 3600);
  CHECK_THAT(out.levels[1], WithinRel(98.5 * 0.3048, 1e-12));
}

TEST_CASE("a pop-up has a lid, a head and a weep hole") {
  const site::Outlet out = read_one("kind = \"pop-up\"\nlid = 99\nweep = \"1/2 in\"\n");
  CHECK(out.lid == Approx(99 * 0.3048));
  CHECK(out.weep == Approx(0.0127));
  CHECK(warned(read(outlet("weep = \"1/2 in\"\n")), "pop-up"));
}

TEST_CASE("a dry well by itself takes a downspout") {
  const std::string house =
      "[[building]]\nname = \"house\"\nrectangle = [10, 30, 30, 10]\ndownspouts = [ { at "
      "= [9, 29], to = \"ground\" } ]\n";
  const site::Site site =
      read(yard(house + "[[design]]\nname = \"d\"\n[[design.drywell]]\nname = \"pit\"\nat = [20, 20]\n"
                        "[[design.downspout]]\nat = [9, 29]\nto = \"pit\"\n"));
  CHECK(site.designs.at(0).outlets.at(0).kind == "dry well");
  CHECK(site.designs.at(0).downspouts.at(0).to == "pit");
}

TEST_CASE("a pump weaker than a garden hose is warned of") {
  const std::string pump = "[[design]]\n[[design.outlet]]\nname = \"p\"\nat = [30, 20]\nkind = \"pump\"\n";
  CHECK(warned(read(yard(pump + "rate = \"30 gal/hr\"\n")), "0.5 gal/min is less than a garden hose"));
  CHECK_FALSE(warned(read(yard(pump + "rate = \"30 gal/min\"\n")), "garden hose"));
}

TEST_CASE("ground around a dry well that no yard has is warned of") {
  const std::string well = "kind = \"dry well\"\nconductivity = ";
  CHECK(
      warned(read(outlet(well + "\"500 in/hr\"\n")), "outlet[1].conductivity: 500 in/hr is faster than any"));
  CHECK_FALSE(warned(read(outlet(well + "\"5 in/hr\"\n")), "any yard soil"));
}

TEST_CASE("a level outside with its unit is not turned into metres twice where only the time is bare") {
  const auto levels_of = [](const std::string& table) {
    Folder folder;
    folder.write("levels.csv", "x,y,elevation\n0,0,100\n60,0,100\n60,40,100\n0,40,100\n");
    folder.write("ditch.csv", table);
    const site::Site site = read(outlet("kind = \"submerged\"\nlevel = \"ditch.csv\"\n"), folder);
    return site.designs.at(0).outlets.at(0).levels;
  };
  for (const char* table : {"time,level_ft\n0,97\n3600,98.5\n", "time,level\n0,97 ft\n3600,98.5 ft\n",
                            "time_s,level\n0,97\n3600,98.5\n", "time,level\n0,97 ft\n3600,98.5\n"}) {
    INFO(table);
    CHECK_THAT(levels_of(table).at(0), WithinRel(97 * 0.3048, 1e-12));
    CHECK_THAT(levels_of(table).at(1), WithinRel(98.5 * 0.3048, 1e-12));
  }
  CHECK_THAT(levels_of("time,level\n0,-2.5\n3600,-1\n").at(0), WithinRel(-2.5 * 0.3048, 1e-12)); // sill = 0
}
