#include "catch.hpp"

#include <cmath>
#include <unistd.h>

#include "journeys/program.hpp"

using journey::fs::path;

namespace {
// A small yard with a drain, in metres.
path small_yard(const std::string& name) {
  const path folder = journey::fresh_folder(name);
  journey::write(folder / "site.toml",
                 "[site]\nname='Small yard'\nunits='m'\nrectangle=[0,0,12,8]\ncell='0.5 m'\n"
                 "[ground]\nlevels='levels.csv'\n"
                 "[[soil]]\nname='s'\ntopsoil={texture='silt loam',depth='0.2 "
                 "m'}\ntight_layer={conductivity='0.5 mm/hr'}\n"
                 "[[area]]\nname='bed'\nkind='mulched "
                 "bed'\nrectangle=[3,2,6,4]\nplants={kind='shrubs',root_depth='0.3 m'}\n"
                 "[storm]\npattern='blocks'\nblocks=[['1 hr','25 mm/hr']]\ndry='1 d'\nmonth='May'\n"
                 "[target]\nareas=['bed']\n"
                 "[[gauge]]\nname='low'\nat=[6,4]\n[[line]]\nname='fence'\npath=[[11,0],[11,8]]\n"
                 "[[design]]\nname='stone'\n[[design.run]]\nname='leg'\npath=[[4,4],[12,4]]\n"
                 "pipe='4 in corrugated, slotted'\ntrench={width='0.3 m',depth='0.4 m'}\nfall='1 %'\n"
                 "stone='No. 57, rounded, washed'\ncap={kind='open stone'}\nto='out'\n"
                 "[[design.outlet]]\nname='out'\nkind='daylight'\nat=[12,4]\n");
  std::string levels = "x,y,elevation\n";
  for (int x = 0; x <= 12; x += 2)
    for (int y = 0; y <= 8; y += 2) {
      const double bowl = std::hypot(x - 6.0, y - 4.0) < 2.5 ? -0.08 : 0.0;
      levels +=
          std::to_string(x) + "," + std::to_string(y) + "," + std::to_string(10 - 0.02 * x + bowl) + "\n";
    }
  journey::write(folder / "levels.csv", levels);
  return folder;
}
} // namespace

TEST_CASE("compare writes every output, and they agree with each other") {
  const path folder = small_yard("outputs");
  const journey::Answer answer =
      journey::run({"compare", folder.string(), "--out", (folder / "out").string(), "--json"});
  INFO(answer.err);
  REQUIRE(answer.code == 0);
  const path out = folder / "out";
  for (const char* file :
       {"summary.json", "hydrographs.csv", "results.nc", "report.html", "maps/before-after.png"})
    CHECK(std::filesystem::file_size(out / file) > 500);
  const auto said = nlohmann::json::parse(answer.out);
  const auto summary = journey::json_file(out / "summary.json");
  CHECK(said == summary);
  for (const char* key : {"schema", "version", "site", "warnings", "defaults", "storm", "designs", "verdict"})
    CHECK(summary.contains(key));
  REQUIRE(summary["designs"].size() == 2);
  const double yard = 12 * 8 * 0.025;
  for (const auto& design : summary["designs"]) {
    const auto& ledger = design["ledger"];
    const auto value = [&](const char* key) { return ledger[key].get<double>(); };
    CHECK_THAT(value("rain_m3"), WithinRel(yard, 1e-9));
    const double left = value("rain_m3") + value("inflow_m3") + value("stored_start_m3") -
                        value("left_over_edges_m3") - value("left_by_drains_m3") - value("deep_leakage_m3") -
                        value("evapotranspiration_m3") - value("stored_end_m3");
    CHECK(std::abs(left) < 1e-9 * yard);
    CHECK(std::abs(value("closure_m3")) < 1e-9 * yard);
  }
  CHECK(summary["designs"][1]["ledger"]["left_by_drains_m3"].get<double>() > 0);
  for (const char* name :
       {"rain_m_per_s", "as is:edges_m3_per_s", "as is:gauge:low_m", "as is:gauge:low:perched_m",
        "as is:bed:bed:depletion_m", "as is:line:fence_m3_per_s", "stone:drain:out_m3_per_s",
        "stone:run:leg:foot_depth_m", "stone:run:leg:stored_m3"})
    CHECK_NOTHROW(journey::column(out / "hydrographs.csv", name));
}

TEST_CASE("results.nc opens as a raster with a georeference") {
  if (std::system("command -v gdalinfo >/dev/null 2>&1") != 0) {
    WARN("gdalinfo is not installed: not tried");
    return;
  }
  const path folder = small_yard("raster");
  REQUIRE(journey::run({"compare", folder.string(), "--quiet"}).code == 0);
  const path said = folder / "said";
  const std::string command = "gdalinfo NETCDF:" + journey::quoted((folder / "results/results.nc").string()) +
                              ":ground_elevation >" + journey::quoted(said.string()) + " 2>&1";
  REQUIRE(std::system(command.c_str()) == 0);
  const std::string text = journey::content(said);
  CHECK_THAT(text, ContainsSubstring("Size is 24, 16"));
  CHECK_THAT(text, ContainsSubstring("Pixel Size = (0.5"));
}

TEST_CASE("a target that is missed gives exit code 3, but only when asked") {
  const path folder = small_yard("strict");
  std::string site = journey::content(folder / "site.toml");
  site.replace(site.find("areas=['bed']"), 13,
               "areas=['bed']\nstanding_depth='0.001 mm'\nclear_within='1 s'");
  journey::write(folder / "site.toml", site);
  CHECK(journey::run({"compare", folder.string(), "--quiet"}).code == 0);
  CHECK(journey::run({"compare", folder.string(), "--quiet", "--strict"}).code == 3);
}

TEST_CASE("one design by name; results of another yard are not overwritten unasked") {
  const path folder = small_yard("guard");
  REQUIRE(journey::run({"compare", folder.string(), "--quiet", "--design", "stone"}).code == 0);
  std::string site = journey::content(folder / "site.toml");
  site.replace(site.find("Small yard"), 10, "Other yard");
  journey::write(folder / "site.toml", site);
  const journey::Answer refused = journey::run({"compare", folder.string(), "--quiet"});
  CHECK(refused.code == 2);
  CHECK_THAT(refused.err, ContainsSubstring("Small yard"));
  CHECK(journey::run({"compare", folder.string(), "--quiet", "--overwrite"}).code == 0);
}

TEST_CASE("a run that does not follow the water leaves no maps of where it came from") {
  const path folder = small_yard("stale_maps"), maps = folder / "results" / "maps";
  REQUIRE(journey::run({"compare", folder.string(), "--quiet", "--cell", "1 m"}).code == 0);
  CHECK(std::filesystem::exists(maps / "sources.png"));
  REQUIRE(journey::run({"compare", folder.string(), "--quiet", "--cell", "1 m", "--method", "routed",
                        "--plausible", "0"})
              .code == 0);
  CHECK_FALSE(std::filesystem::exists(maps / "sources.png"));
  CHECK_FALSE(std::filesystem::exists(maps / "sources.pdf"));
  CHECK(std::filesystem::exists(maps / "before-after.png"));
  CHECK_FALSE(std::filesystem::exists(folder / "results" / "UNFINISHED.txt"));
}

TEST_CASE("cells of another size than the site file's are not told as assumed") {
  const path folder = small_yard("other_cells");
  std::string site = journey::content(folder / "site.toml");
  site.erase(site.find("cell='0.5 m'"), 13);
  journey::write(folder / "site.toml", site);
  const auto assumed = [&](const std::vector<std::string>& more) {
    std::vector<std::string> words = {"compare", folder.string(), "--quiet", "--method",
                                      "routed",  "--plausible",   "0"};
    words.insert(words.end(), more.begin(), more.end());
    REQUIRE(journey::run(words).code == 0);
    return journey::content(folder / "results" / "permit.html");
  };
  CHECK_THAT(assumed({"--cell", "1 m"}),
             !ContainsSubstring("site.cell = ") && ContainsSubstring("on cells of 1000 mm"));
  CHECK_THAT(assumed({}), ContainsSubstring("site.cell = "));
}
