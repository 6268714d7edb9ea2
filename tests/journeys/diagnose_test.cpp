#include "catch.hpp"

#include <unistd.h>

#include <regex>
#include <set>

#include "journeys/program.hpp"

namespace fs = std::filesystem;
using journey::run;

namespace {
// A pan of 10 by 10 ft, 6 in deep, in ground that falls to the south over the last 20 ft.
fs::path pan(const std::string& name, const std::string& more = "") {
  const fs::path folder = journey::fresh_folder(name);
  std::string levels = "x,y,elevation\n";
  for (const double x : {0.0, 40.0}) {
    levels += std::to_string(x) + ",60,100\n" + std::to_string(x) + ",20,100\n";
    levels += std::to_string(x) + ",0,97\n";
  }
  journey::write(folder / "levels.csv", levels);
  journey::write(folder / "site.toml",
                 "[site]\nname = \"pan\"\nunits = \"ft\"\noutline = [[0, 0], [40, 0], [40, 60], [0, "
                 "60]]\ncell = \"1 ft\"\n"
                 "[ground]\nlevels = \"levels.csv\"\n[edges]\ndefault = \"wall\"\nsouth = \"open\"\n"
                 "[[area]]\nname = \"pan\"\nkind = \"concrete\"\nrectangle = [15, 35, 10, 10]\n"
                 "surface = [[15, 35, 99.5], [25, 35, 99.5], [15, 45, 99.5]]\n"
                 "[storm]\ndepth = \"1 in\"\nduration = \"1 hr\"\npattern = \"uniform\"\n" +
                     more);
  return folder;
}
} // namespace

TEST_CASE("diagnose: volume, spill, what sheds and the outlet, on paper and as JSON") {
  const fs::path folder = pan("diagnose");
  const journey::Answer said =
      run({"diagnose", folder.string(), "--ground-only", "--out", (folder / "out").string()});
  CHECK(said.code == 0);
  CHECK_THAT(said.out, ContainsSubstring("One low spot. The pan holds 370 gal, 6 in deep") &&
                           ContainsSubstring("by gravity to the south edge"));
  CHECK(journey::content(folder / "out" / "diagnosis.png").substr(1, 3) == "PNG");
  CHECK(journey::content(folder / "out" / "diagnosis.pdf").substr(0, 4) == "%PDF");
  CHECK_THAT(journey::content(folder / "out" / "diagnosis.html"), ContainsSubstring("Why it is wet"));
  const auto json = journey::json_file(folder / "out" / "diagnosis.json");
  REQUIRE(json["low_spots"].size() == 1);
  const auto& spot = json["low_spots"][0];
  constexpr double foot = 0.3048;
  CHECK_THAT(spot["volume_m3"].get<double>(), WithinRel(50 * foot * foot * foot, 1e-9));
  CHECK(spot["spills_into"] == 0);
  double of_pan = 0, of_all = 0;
  for (const auto& cover : spot["covers"]) {
    of_all += cover["area_m2"].get<double>();
    if (cover["cover"] == "pan") of_pan += cover["area_m2"].get<double>();
  }
  CHECK_THAT(of_pan, WithinRel(100 * foot * foot, 1e-9));
  CHECK_THAT(of_all, WithinRel(spot["catchment_m2"].get<double>(), 1e-9));
  CHECK_THAT(spot["rain_to_fill"]["all_runs_off_m"].get<double>() * spot["catchment_m2"].get<double>(),
             WithinRel(spot["volume_m3"].get<double>(), 1e-9));
  const auto& outlet = spot["outlets"][0];
  CHECK(outlet["reach"] == "by gravity");
  CHECK(outlet["margin_m"].get<double>() > 0.1);
  const auto again = nlohmann::json::parse(run({"diagnose", folder.string(), "--ground-only", "--json"}).out);
  CHECK(again["low_spots"] == json["low_spots"]);
}

TEST_CASE("diagnose: a closed yard, a candidate too high, a mistyped key") {
  const fs::path closed = pan("closed", "");
  std::string text = journey::content(closed / "site.toml");
  text.replace(text.find("south = \"open\""), 14, "south = \"wall\"");
  journey::write(closed / "site.toml", text);
  const journey::Answer shut = run({"diagnose", "--ground-only", closed.string()});
  CHECK(shut.code == 0);
  CHECK_THAT(shut.out,
             ContainsSubstring("nowhere to drain to") || ContainsSubstring("no place for an outlet"));
  const fs::path high =
      pan("high", "[[outlet_candidate]]\nname = \"curb\"\nkind = \"curb\"\nat = [40, 40]\nlevel = 99.9\n");
  CHECK_THAT(run({"diagnose", "--ground-only", high.string()}).out, ContainsSubstring("of fall missing"));
  const fs::path wrong = pan("wrong", "[reach]\ncovre = \"6 in\"\n");
  const journey::Answer mistyped = run({"diagnose", wrong.string()});
  CHECK(mistyped.code == 2);
  CHECK_THAT(mistyped.err, ContainsSubstring("cover"));
}

TEST_CASE("diagnose: the share of a source and what mending it takes away at best are one figure, written "
          "one way") {
  std::string areas = "[run]\nuntil = \"2 hr\"\n";
  for (const char* one : {"step\"\nrectangle = [15, 35, 3, 3]", "mat\"\nrectangle = [18, 35, 2, 3]",
                          "sill\"\nrectangle = [20, 35, 5, 1]"})
    areas += "[[area]]\nkind = \"concrete\"\nname = \"" + std::string(one) + "\n";
  const std::string said = run({"diagnose", pan("shares", areas).string()}).out;
  const std::regex row("\n +([0-9]+ %) +[0-9.]+ gal +rain on"), fix("- takes ([^%]* %) of it at best");
  std::multiset<std::string> listed, taken;
  for (std::sregex_iterator at(said.begin(), said.end(), row), end; at != end; ++at) listed.insert((*at)[1]);
  for (std::sregex_iterator at(said.begin(), said.end(), fix), end; at != end; ++at) taken.insert((*at)[1]);
  CHECK(listed.size() >= 5); // pan, open ground, step, mat and sill
  CHECK(listed == taken);
}
