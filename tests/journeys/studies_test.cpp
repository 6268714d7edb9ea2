#include "catch.hpp"

#include <unistd.h>

#include "journeys/browser.hpp"

using journey::run;

namespace {
namespace fs = std::filesystem;

// A small bowl in lawn with soil known within bands only, and a drain under open stone.
fs::path small_yard(const std::string& name) {
  const fs::path folder = journey::fresh_folder(name);
  std::string levels = "x,y,elevation\n";
  for (int j = 0; j <= 4; ++j)
    for (int i = 0; i <= 6; ++i)
      levels += std::to_string(i * 4) + "," + std::to_string(j * 4) + "," +
                std::to_string(100 + 0.02 * ((i - 3) * (i - 3) + (j - 2) * (j - 2))) + "\n";
  journey::write(folder / "levels.csv", levels);
  journey::write(folder / "gauge.csv", "time_h,depth_in\n0,0.4\n1,0.5\n2,0.3\n3,0\n");
  journey::write(folder / "storms.csv",
                 "duration_min,rp_1yr,rp_10yr,rp_100yr\n15,0.4,0.9,1.5\n60,0.8,1.8,3.0\n120,1.0,2.2,3.6\n");
  journey::write(folder / "site.toml", R"([site]
name = "Small bowl"
units = "ft"
outline = [[0, 0], [24, 0], [24, 16], [0, 16]]
cell = "1 ft"
[ground]
levels = "levels.csv"
[edges]
default = "open"
[[soil]]
topsoil = { texture = "silt loam", depth = "8 in", conductivity = ["0.02 in/hr", "0.06 in/hr", "0.2 in/hr"] }
tight_layer = { conductivity = ["0.003 in/hr", "0.02 in/hr", "0.1 in/hr"] }
[[area]]
name = "bowl"
kind = "lawn"
outline = [[4, 2], [20, 2], [20, 14], [4, 14]]
[storm]
table = "storms.csv"
return_period = "10 yr"
duration = "2 hr"
dry = "2 d"
month = "May"
[target]
areas = ["bowl"]
[[design]]
name = "drain"
[[design.run]]
name = "leg"
path = [[12, 8], [12, 0]]
pipe = "3 in corrugated, slotted"
trench = { width = "12 in", depth = "14 in" }
fall = "1 %"
cap = { kind = "open stone" }
to = "out"
[[design.outlet]]
name = "out"
kind = "daylight"
at = [12, 0]
)");
  return folder;
}
} // namespace

TEST_CASE("compare says in how many plausible soils a design works; same seed same answer on any threads") {
  const fs::path yard = small_yard("plausible");
  const auto answer = [&](const std::vector<std::string>& more) {
    std::vector<std::string> words{"compare", yard.string(), "--out", (yard / "out").string(), "--json"};
    words.insert(words.end(), more.begin(), more.end());
    const journey::Answer said = run(words);
    INFO(said.err);
    REQUIRE(said.code == 0);
    return nlohmann::json::parse(said.out).at("plausible");
  };
  auto one = answer({"--plausible", "4", "--threads", "1"}),
       two = answer({"--plausible", "4", "--threads", "2"});
  CHECK(one["draws"] == 4);
  CHECK(one["seed"] == 1);
  CHECK(one["designs"].size() == 2);
  CHECK(one["designs"][1]["of"] == 4);
  for (auto* each : {&one, &two}) each->erase("run_seconds");
  CHECK(one == two);
  CHECK(answer({"--plausible", "4", "--seed", "2"})["inputs"] != one["inputs"]);
  CHECK_THAT(journey::content(yard / "out" / "report.html"), ContainsSubstring("How sure the answer is"));
  CHECK(answer({"--plausible", "0"}).is_null());
  const journey::Answer words =
      run({"compare", yard.string(), "--out", (yard / "out").string(), "--plausible", "3", "--quiet"});
  CHECK_THAT(words.out, ContainsSubstring("of 3 plausible soils"));
}

TEST_CASE("storms names the storm at which each design fails") {
  const fs::path yard = small_yard("storms");
  const journey::Answer said = run({"storms", yard.string(), "--out", (yard / "out").string(), "--json"});
  INFO(said.err);
  REQUIRE(said.code == 0);
  const auto json = nlohmann::json::parse(said.out);
  CHECK(json["storms"].size() == 7);
  REQUIRE(json["designs"].size() == 2);
  for (const auto& design : json["designs"]) {
    CHECK(design["storms"].size() == 7);
    CHECK_FALSE(design["sentence"].get<std::string>().empty());
  }
  CHECK(json["designs"][0]["storms"][6]["standing_hours"] >=
        json["designs"][0]["storms"][0]["standing_hours"]);
  CHECK_THAT(journey::content(yard / "out" / "storms.html"), ContainsSubstring("<svg"));
  CHECK(fs::exists(yard / "out" / "storms.csv"));
}

TEST_CASE("a year later: inside the band, or causes with their checks") {
  const fs::path yard = small_yard("later");
  const auto ask = [&](const std::string& stood, const std::string& outlet) {
    return run({"yearlater", yard.string(), "--rain", (yard / "gauge.csv").string(), "--stood", stood,
                "--outlet", outlet, "--plausible", "4", "--json", "--out", (yard / "later").string()});
  };
  const journey::Answer stood = ask("bowl = 40 hr", "dry");
  INFO(stood.err);
  REQUIRE(stood.code == 0);
  const auto json = nlohmann::json::parse(stood.out);
  CHECK(json["as_promised"] == false);
  CHECK(json["causes"].size() >= 4);
  CHECK_FALSE(json["causes"][0]["check"].get<std::string>().empty());
  const fs::path page = yard / "later" / "yearlater.html";
  CHECK_THAT(journey::content(page), ContainsSubstring("Not as promised") && ContainsSubstring("look here"));
  if (journey::browser_here())
    for (const char* paper : {"letter", "A4"}) CHECK(journey::printed_pages(page, paper) == 1);
  const journey::Answer wrong = ask("bowel = 40 hr", "dry");
  CHECK(wrong.code == 2);
  CHECK_THAT(wrong.err, ContainsSubstring("did you mean 'bowl'"));
  CHECK(ask("bowl 40 hr", "dry").code == 2);
  const journey::Answer twice = run({"yearlater", yard.string(), "--rain", (yard / "gauge.csv").string(),
                                     "--stood", "bowl = 40 hr", "--stood", "bowl = 2 hr"});
  CHECK(twice.code == 2);
  CHECK_THAT(twice.err, ContainsSubstring("\"bowl\" twice") && ContainsSubstring("To mend it"));
}

TEST_CASE("two processes give the answer of one, and one set of files") {
  if (std::system("command -v mpirun >/dev/null 2>&1") != 0) {
    WARN("no mpirun: several processes were not tried");
    return;
  }
  const fs::path yard = small_yard("processes");
  const auto answer = [&](const std::string& before, const std::string& out) {
    const std::string command =
        before + " " + journey::quoted(LOWSPOT_PROGRAM) + " compare " + journey::quoted(yard.string()) +
        " --plausible 4 --json --out " + journey::quoted((yard / out).string()) + " >" +
        journey::quoted((yard / (out + ".json")).string()) + " 2>/dev/null </dev/null";
    REQUIRE(std::system(command.c_str()) == 0);
    auto json = nlohmann::json::parse(journey::content(yard / (out + ".json"))).at("plausible");
    json.erase("run_seconds");
    return json;
  };
  const auto one = answer("", "one");
  const auto two = answer(journey::two_processes, "two");
  CHECK(one == two);
  CHECK(fs::exists(yard / "two" / "report.html"));
}
