// Why it is wet, as a user asks it: a patio that sheds into a bowl with a downspout, and what was seen there.
#include "catch.hpp"

#include <cmath>

#include "journeys/program.hpp"

using journey::fs::path;

namespace {
path wet_yard(const std::string& name) {
  const path folder = journey::fresh_folder(name);
  journey::write(
      folder / "site.toml",
      "[site]\nname='Wet yard'\nunits='ft'\nrectangle=[0,0,40,30]\ncell='2 ft'\n"
      "[ground]\nlevels='levels.csv'\n"
      "[[soil]]\nname='s'\ntopsoil={texture='silt loam',depth='8 in'}\ntight_layer={conductivity='0.02 "
      "in/hr'}\n"
      "[[area]]\nname='lawn'\nkind='lawn'\nrectangle=[0,0,40,30]\n"
      "[[area]]\nname='patio'\nkind='concrete'\nrectangle=[0,0,16,30]\n"
      "[[building]]\nname='house'\nrectangle=[0,26,10,4]\n"
      "downspouts=[{name='spout',at=[12,27],roof='200 ft2',to='ground'}]\n"
      "[storm]\npattern='blocks'\nblocks=[['1 hr','1 in/hr']]\ndry='2 d'\nmonth='May'\n"
      "[[seen]]\nname='after the March rain'\narea='lawn'\nafter_rain='1 in'\nover='1 hr'\nstood='1 hr'\n");
  std::string levels = "x,y,elevation\n";
  for (int x = 0; x <= 40; x += 4)
    for (int y = 0; y <= 30; y += 5)
      levels += std::to_string(x) + "," + std::to_string(y) + "," +
                std::to_string(100 + 0.01 * std::abs(x - 24) + 0.002 * std::abs(y - 15)) + "\n";
  journey::write(folder / "levels.csv", levels);
  return folder;
}
} // namespace

TEST_CASE("diagnose says where the water comes from, in words and in figures") {
  const path folder = wet_yard("wet");
  const journey::Answer words = journey::run({"diagnose", folder.string()});
  INFO(words.err);
  REQUIRE(words.code == 0);
  CHECK_THAT(words.out, ContainsSubstring("rain on patio") && ContainsSubstring("house, spout") &&
                            ContainsSubstring("To be sure") && ContainsSubstring("after the March rain"));
  const journey::Answer figures = journey::run({"diagnose", folder.string(), "--json"});
  REQUIRE(figures.code == 0);
  const auto answer = nlohmann::json::parse(figures.out);
  REQUIRE_FALSE(answer["wet_places"].empty());
  for (const auto& place : answer["wet_places"]) {
    double sum = 0;
    for (const auto& part : place["at_peak"]) sum += part["share"].get<double>();
    CHECK_THAT(sum, WithinAbs(1.0, 1e-9));
  }
  CHECK(answer["seen"].size() == 1);
  const journey::Answer ground = journey::run({"diagnose", folder.string(), "--json", "--ground-only"});
  CHECK(nlohmann::json::parse(ground.out)["wet_places"].empty());
}
