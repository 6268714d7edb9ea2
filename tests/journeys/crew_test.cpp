// What the crew and the office take from a yard: cut sheet, as-dug check, take-off.
#include "catch.hpp"

#include <unistd.h>

#include <cmath>

#include "journeys/program.hpp"

using journey::run;

namespace {

// A level yard in metres with one drain: 20 m at 1 %, head invert 0.5 m down.
journey::fs::path level_yard(const std::string& name, const std::string& more = "") {
  const auto folder = journey::fresh_folder(name);
  journey::write(folder / "levels.csv", "x,y,elevation\n0,0,10\n24,0,10\n24,10,10\n0,10,10\n12,5,10\n");
  journey::write(
      folder / "site.toml",
      "[site]\nname = \"level\"\nunits = \"m\"\noutline = [[0,0],[24,0],[24,10],[0,10]]\ncell = \"0.5 m\"\n"
      "[ground]\nlevels = \"levels.csv\"\n[storm]\ndepth = \"20 mm\"\nduration = \"1 hr\"\ndry = \"3 hr\"\n"
      "[[design]]\nname = \"one\"\n[[design.run]]\nname = \"main\"\npath = [[2,5],[22,5]]\n"
      "pipe = \"4 in corrugated, slotted\"\ntrench = { width = \"300 mm\", bedding = \"50 mm\" }\n"
      "inverts = [9.5, 9.3]\nstone = \"No. 57, rounded, washed\"\ncap = \"open stone\"\nto = \"ditch\"\n"
      "[[design.outlet]]\nname = \"ditch\"\nkind = \"daylight\"\nat = [22,5]\n" +
          more);
  return folder;
}

} // namespace

TEST_CASE("the cut sheet gives the rod reading of every station for the instrument of the day") {
  const auto yard = level_yard("cutsheet");
  const auto answer = run({"cutsheet", yard.string(), "--hi", "11.2", "--json"});
  INFO(answer.err);
  REQUIRE(answer.code == 0);
  const auto json = nlohmann::json::parse(answer.out);
  REQUIRE(json["stations"].size() == 15); // 0 to 19.5 m by 1.5 m, and the head at 20 m
  for (const auto& station : json["stations"]) {
    const double up = station["station_m"];
    CHECK_THAT(station["rod_m"].get<double>(), WithinAbs(11.2 - (9.3 + 0.01 * up - 0.05), 1e-9));
    CHECK_THAT(station["cut_m"].get<double>(), WithinAbs(10 - (9.3 + 0.01 * up - 0.05), 1e-6));
  }
  const auto said =
      run({"cutsheet", yard.string(), "--hi", "11.2", "--rod", "mm", "--out", (yard / "out").string()});
  CHECK(said.code == 0);
  CHECK_THAT(said.out, ContainsSubstring("1950 mm"));
  CHECK(journey::fs::exists(yard / "out" / "cutsheet.html"));
  CHECK_THAT(journey::content(yard / "out" / "cutsheet.csv"), ContainsSubstring("main,"));
}

TEST_CASE("a trench as dug is accepted, or told what to mend") {
  const auto yard = level_yard("dug");
  journey::write(yard / "right.csv", "station,reading\n0,1.950\n6,1.892\n12,1.829\n");
  const auto right =
      run({"cutsheet", yard.string(), "--hi", "11.2", "--dug", (yard / "right.csv").string(), "--no-rerun"});
  INFO(right.err);
  CHECK(right.code == 0);
  CHECK_THAT(right.out, ContainsSubstring("lay the pipe"));
  journey::write(yard / "wrong.csv", "station,reading\n0,1.950\n6,1.830\n12,1.830\n");
  const auto wrong =
      run({"cutsheet", yard.string(), "--hi", "11.2", "--dug", (yard / "wrong.csv").string(), "--rod", "mm"});
  INFO(wrong.err);
  CHECK(wrong.code == 0);
  CHECK_THAT(wrong.out, ContainsSubstring("dig 60 mm more at 6 m of main"));
  CHECK_THAT(wrong.out, ContainsSubstring("trench as dug"));
}

TEST_CASE("a few readings do not make a trench right, nor an instrument below it a rod reading") {
  const auto yard = level_yard("dug_in_part");
  journey::write(yard / "part.csv", "station,reading\n0,1.950\n");
  const auto part =
      run({"cutsheet", yard.string(), "--hi", "11.2", "--dug", (yard / "part.csv").string(), "--no-rerun"});
  CHECK_THAT(part.out,
             ContainsSubstring("1 of 15 stations read") && !ContainsSubstring("The trench is right"));
  const auto low = run({"cutsheet", yard.string(), "--hi", "9.35"}); // bottoms from 9.25 to 9.45
  CHECK(low.code == 0);
  CHECK_THAT(low.out, ContainsSubstring("above HI") && !ContainsSubstring(" -"));
  CHECK_THAT(low.err, ContainsSubstring("stands below part of what is dug"));
}

TEST_CASE("a slip in a rate is found before anything is run") {
  for (const auto& [name, rate] :
       {std::pair("slip_of_item", "item = \"trenhc\"\nprice = 1\nper = \"m\"\n"),
        std::pair("slip_of_unit", "item = \"trench\"\nprice = 1\nper = \"ton\"\n")}) {
    const auto yard = level_yard(name, std::string("[[rate]]\n") + rate);
    for (const char* command : {"check", "compare"}) {
      const auto answer = run({command, yard.string()});
      INFO(command << ": " << answer.err);
      CHECK(answer.code == 2);
      CHECK_THAT(answer.err, ContainsSubstring("rate.") && ContainsSubstring("To mend it") &&
                                 !ContainsSubstring("Running"));
    }
    CHECK_FALSE(journey::fs::exists(yard / "results"));
  }
}

TEST_CASE("a take-off adds up at one's own rates") {
  const auto yard = level_yard("takeoff", "[[rate]]\nitem = \"trench\"\nprice = 12.5\nper = \"m\"\n");
  const auto answer = run({"takeoff", yard.string(), "--json", "--out", (yard / "out").string()});
  INFO(answer.err);
  REQUIRE(answer.code == 0);
  const auto json = nlohmann::json::parse(answer.out);
  CHECK_THAT(json["cost"].get<double>(), WithinAbs(250, 1e-9));
  CHECK(journey::fs::exists(yard / "out" / "takeoff.csv"));
  CHECK(journey::fs::exists(yard / "out" / "takeoff.html"));
}

TEST_CASE("bad requests end with 2 and say how to mend them") {
  const auto yard = level_yard("crew_bad");
  journey::write(yard / "bad.csv", "station,reading\n99,1.9\n");
  const std::vector<std::vector<std::string>> requests = {
      {"cutsheet", yard.string(), "--design", "two"},
      {"cutsheet", yard.string(), "--rod", "cubits"},
      {"cutsheet", yard.string(), "--every", "5"},
      {"cutsheet", yard.string(), "--every", "1e-9 in"}, // would never end
      {"cutsheet", yard.string(), "--hi", "nan"},
      {"cutsheet", yard.string(), "--hi", "inf"},
      {"cutsheet", yard.string(), "--hi", "5"}, // 4 m below the trench
      {"cutsheet", yard.string(), "--hi", "high"},
      {"cutsheet", yard.string(), "--hi", "11.2", "--dug", (yard / "bad.csv").string()},
      {"cutsheet", yard.string(), "--dug", (yard / "missing.csv").string()},
      {"takeoff", level_yard("bad_rate", "[[rate]]\nitem = \"gold\"\nprice = 1\nper = \"ton\"\n").string()}};
  for (const auto& request : requests) {
    const auto answer = run(request);
    INFO(request[0] << " " << request.back() << ": " << answer.err);
    CHECK(answer.code == 2);
    CHECK_THAT(answer.err, ContainsSubstring("To mend it"));
  }
}

TEST_CASE("a rod longer than rods are is warned of; what goes with --dug alone is refused without it") {
  const auto yard = level_yard("crew_odd");
  const auto far = run({"cutsheet", yard.string(), "--hi", "100"});
  CHECK(far.code == 0);
  CHECK_THAT(far.err, ContainsSubstring("than rods are"));
  CHECK(run({"cutsheet", yard.string(), "--hi", "11.2"}).err.find("rods") == std::string::npos);
  CHECK(run({"cutsheet", yard.string(), "--every", "1 in"}).code == 0);
  const auto alone = run({"cutsheet", yard.string(), "--no-rerun"});
  CHECK(alone.code == 2);
  CHECK_THAT(alone.err, ContainsSubstring("--no-rerun requires --dug"));
  // Without readings the tolerance is that which the page tells the crew.
  CHECK(run({"cutsheet", yard.string(), "--tolerance", "10 mm", "--rod", "mm", "--out",
             (yard / "out").string()})
            .code == 0);
  CHECK_THAT(journey::content(yard / "out" / "cutsheet.html"),
             ContainsSubstring("Within 10 mm of the reading"));
}
