// The command a crew runs after shooting: words first, figures after, files when asked.
#include "catch.hpp"

#include <unistd.h>

#include "journeys/program.hpp"

using journey::fs::path;

namespace {
const std::string site_text =
    "[site]\nname='Crew'\nunits='ft'\noutline=[[0,0],[40,0],[40,30],[0,30]]\ncell='1 ft'\n"
    "[ground]\nlevels='levels.csv'\n[storm]\npattern='blocks'\nblocks=[['10 min','1 in/hr']]\n";
// A plane with a dip, shot every 5 ft from two set-ups; `slip` is added to the reading at (20, 15).
std::string book(double slip, double close) {
  std::string text = "point,x,y,backsight,intermediate,foresight,elevation,note\nBM,,,4.32,,,100.00,sill\n";
  char line[96];
  int k = 0;
  for (int j = 0; j <= 6; ++j)
    for (int i = 0; i <= 8; ++i) {
      ++k;
      if (k == 32) text += "TP1,,,4.00,,5.00,,stake\n";
      const double x = 5 * i, y = 5 * j;
      const double z = 98 + 0.02 * y + 0.01 * ((7 * k) % 3) - (x == 10 && y == 10 ? 0.15 : 0);
      const double instrument = k < 32 ? 104.32 : 103.32;
      std::snprintf(line, sizeof line, "%d,%g,%g,,%.2f,,,\n", k, x, y,
                    instrument - z + (x == 20 && y == 15 ? slip : 0));
      text += line;
    }
  std::snprintf(line, sizeof line, "BM,,,,,%.2f,,\n", 3.32 + close);
  return text + line;
}
} // namespace

TEST_CASE("a rod book in words, figures, JSON and files") {
  const path folder = journey::fresh_folder("levels");
  journey::write(folder / "site.toml", site_text);
  journey::write(folder / "levels.csv", book(1, 0.01));
  const journey::Answer answer =
      journey::run({"levels", folder.string(), "--out", (folder / "out").string()});
  INFO(answer.err);
  REQUIRE(answer.code == 0);
  CHECK_THAT(answer.out,
             ContainsSubstring("Your levels close to 1/8 in over two set-ups; one shot looks wrong."));
  CHECK_THAT(answer.out, ContainsSubstring("a slip of a whole foot"));
  CHECK_THAT(answer.out, ContainsSubstring("Where one more shot would tell most"));
  CHECK_THAT(answer.out, ContainsSubstring("height of instrument"));
  for (const char* name : {"levels.png", "levels.pdf", "levels_reduced.csv"})
    CHECK(std::filesystem::exists(folder / "out" / name));

  const auto json = nlohmann::json::parse(journey::run({"levels", folder.string(), "--json"}).out);
  REQUIRE(json["suspicious_shots"].size() == 1);
  CHECK(json["suspicious_shots"][0]["line"] == 35);
  CHECK_THAT(json["suspicious_shots"][0]["off_m"].get<double>(), WithinAbs(-0.3048, 0.02));
  CHECK(json["closures"][0]["spread"] == true);
  CHECK(json["shots"].size() == 63);
  // Mended by hand, nothing looks wrong.
  journey::write(folder / "levels.csv", book(0, 0.01));
  CHECK(nlohmann::json::parse(journey::run({"levels", folder.string(), "--json"}).out)["suspicious_shots"]
            .empty());
}

TEST_CASE("the demo yard's levels close and nothing in them looks wrong") {
  const auto json = nlohmann::json::parse(
      journey::run({"levels", std::string(LOWSPOT_SOURCE_DATA) + "/demo", "--json"}).out);
  CHECK(json["suspicious_shots"].empty());
  CHECK(json["suspicious_set_ups"].empty());
  CHECK(json["next_shots"].size() == 3);
}

TEST_CASE("a site without levels is told so") {
  const path folder = journey::fresh_folder("no_levels");
  std::string text = site_text;
  text.replace(text.find("levels='levels.csv'"), 19,
               "breaklines=[[[0,0,9],[40,0,9]],[[0,30,10],[40,30,10]]]");
  journey::write(folder / "site.toml", text);
  const journey::Answer answer = journey::run({"levels", folder.string()});
  CHECK(answer.code == 2);
  CHECK_THAT(answer.err, ContainsSubstring("ground.levels"));
}
