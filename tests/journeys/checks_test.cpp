// Checks, the hose test and what changes buy, as a user runs them.
#include "catch.hpp"

#include <unistd.h>

#include "journeys/program.hpp"

using journey::run;

namespace {

// A metre-deep walled yard in metres with a hollow, a house and one drain through the hollow to the south
// side.
journey::fs::path small_yard(const std::string& name, const std::string& more = "") {
  const auto folder = journey::fresh_folder(name);
  journey::write(folder / "levels.csv", "x,y,elevation\n0,0,9.95\n12,0,9.95\n12,9,10.05\n0,9,10.05\n6,5,9.9\n"
                                        "4,5,10\n8,5,10\n6,3,10\n6,7,10\n");
  journey::write(
      folder / "site.toml",
      "[site]\nname = \"small\"\nunits = \"m\"\noutline = [[0,0],[12,0],[12,9],[0,9]]\ncell = \"0.25 m\"\n"
      "[ground]\nlevels = \"levels.csv\"\n[edges]\ndefault = \"wall\"\nsouth = \"open\"\n"
      "[[area]]\nname = \"lawn\"\nkind = \"lawn\"\noutline = [[0,0],[12,0],[12,9],[0,9]]\n"
      "[[building]]\nname = \"house\"\noutline = [[2,8],[10,8],[10,9],[2,9]]\n"
      "[storm]\ndepth = \"20 mm\"\nduration = \"1 hr\"\ndry = \"12 hr\"\n"
      "[[design]]\nname = \"one\"\n[[design.run]]\nname = \"main\"\npath = [[6,5.5],[6,0]]\n"
      "pipe = \"4 in corrugated, slotted\"\ntrench = { width = \"300 mm\", depth = \"400 mm\" }\n"
      "fall = \"1 %\"\nstone = \"No. 57, rounded, washed\"\nfabric = { kind = \"nonwoven 6 oz\" }\n"
      "cap = \"open stone\"\nto = \"ditch\"\n"
      "[[design.outlet]]\nname = \"ditch\"\nkind = \"daylight\"\nat = [6,0]\n" +
          more);
  return folder;
}

std::string outcome(const nlohmann::json& list, const std::string& id) {
  for (const auto& check : list)
    if (check["id"] == id) return check["outcome"];
  return "missing";
}

} // namespace

TEST_CASE("check lists what needs no run, and a town's own limit turns it") {
  const auto yard = small_yard("checks");
  const auto answer = run({"check", yard.string(), "--json"});
  INFO(answer.err);
  REQUIRE(answer.code == 0);
  const auto checks = nlohmann::json::parse(answer.out)["checks"][0]["checks"];
  CHECK(outcome(checks, "pipe_cover") == "pass");
  CHECK(outcome(checks, "pipe_fall") == "pass");
  CHECK(outcome(checks, "utility_crossing") == "unknown");
  const auto strict =
      small_yard("checks-town", "[limits]\nsource = \"town code\"\npipe_cover = \"600 mm\"\n");
  const auto turned = run({"check", strict.string(), "--json"});
  CHECK(outcome(nlohmann::json::parse(turned.out)["checks"][0]["checks"], "pipe_cover") == "fail");
  const auto words = run({"check", strict.string()});
  CHECK_THAT(words.out,
             ContainsSubstring("FAIL") && ContainsSubstring("town code") && ContainsSubstring("UNKNOWN"));
  const auto bad = run({"check", small_yard("checks-bad", "[limits]\npipe_covr = \"6 in\"\n").string()});
  CHECK(bad.code == 2);
  CHECK_THAT(bad.err, ContainsSubstring("pipe_cover"));
}

TEST_CASE("compare names the limits that the works do not keep beside its answer") {
  const auto strict = small_yard("checks-not-kept", "[limits]\npipe_cover = \"600 mm\"\n");
  const auto answer = run({"compare", strict.string(), "--out", (strict / "out").string(), "--quiet"});
  INFO(answer.err);
  REQUIRE(answer.code == 0);
  CHECK_THAT(answer.out,
             ContainsSubstring("Not kept by the works") && ContainsSubstring("Ground over the pipe (main)"));
  CHECK_THAT(answer.out, ContainsSubstring("'one' moves the water, but") &&
                             ContainsSubstring("limits are not kept, the most serious:") &&
                             !ContainsSubstring("is enough"));
  for (const char* page : {"report.html", "homeowner.html", "summary.json"})
    CHECK_THAT(journey::content(strict / "out" / page),
               ContainsSubstring("moves the water, but") && !ContainsSubstring("is enough"));
}

TEST_CASE("compare says how long the wettest spot stands where no area is judged") {
  const auto yard = small_yard("checks-no-areas");
  std::string site = journey::content(yard / "site.toml");
  const auto from = site.find("[[area]]"), to = site.find("[[building]]");
  journey::write(yard / "site.toml", site.erase(from, to - from));
  const auto answer = run({"compare", yard.string(), "--out", (yard / "out").string(), "--quiet", "--cell",
                           "0.5 m", "--plausible", "0"});
  INFO(answer.err);
  REQUIRE(answer.code == 0);
  const auto table = answer.out.find("  as is\n");
  REQUIRE(table != std::string::npos);
  CHECK_THAT(answer.out.substr(table), ContainsSubstring("the wettest spot  "));
}

TEST_CASE("compare puts the checks and what limits the drain into its outputs") {
  const auto yard = small_yard("checks-compare");
  const auto answer = run({"compare", yard.string(), "--out", (yard / "out").string(), "--json", "--quiet"});
  INFO(answer.err);
  REQUIRE(answer.code == 0);
  const auto designs = nlohmann::json::parse(answer.out)["designs"];
  CHECK(outcome(designs[0]["checks"], "house_fall") != "missing");
  for (const char* id : {"pipe_cover", "pipe_full", "silting", "neighbour_increase", "footing"})
    CHECK(outcome(designs[1]["checks"], id) != "missing");
  double sum = 0;
  for (const auto& [member, share] : designs[1]["drains"][0]["head_lost_in_storm"].items())
    sum += share.get<double>();
  CHECK(sum == Approx(1));
  CHECK_THAT(journey::content(yard / "out" / "report.html"),
             ContainsSubstring("Checks: pass, fail, unknown"));
}

TEST_CASE("the hose test is predicted, written and explained") {
  const auto yard = small_yard("hosetest");
  const auto answer = run({"hosetest", yard.string(), "--flow", "20 L/min", "--for", "15 min", "--json",
                           "--quiet", "--out", (yard / "out").string()});
  INFO(answer.err);
  REQUIRE(answer.code == 0);
  const auto json = nlohmann::json::parse(answer.out);
  CHECK(json["given_m3"].get<double>() == Approx(0.3));
  CHECK(json["first_water_s"].get<double>() > 0);
  const auto& parts = json["whereabouts"];
  CHECK(parts["left_by_drains_m3"].get<double>() + parts["left_over_edges_m3"].get<double>() +
            parts["on_ground_m3"].get<double>() + parts["in_drain_m3"].get<double>() +
            parts["into_ground_m3"].get<double>() ==
        Approx(0.3));
  CHECK_THAT(journey::content(yard / "out" / "hosetest.csv"), ContainsSubstring("time_s,hose_m3_per_s"));
  CHECK_THAT(journey::content(yard / "out" / "hosetest.html"), ContainsSubstring("What to expect"));
  CHECK_THAT(run({"hosetest", yard.string(), "--at", "6,4"}).out, ContainsSubstring("What it proves"));
  CHECK(run({"hosetest", yard.string(), "--at", "6;4"}).code == 2);
  CHECK(run({"hosetest", yard.string(), "--at", "60,4"}).code == 2);
  CHECK(run({"hosetest", yard.string(), "--flow", "20 L"}).code == 2);
}

TEST_CASE("what each change buys") {
  const auto yard = small_yard("remedies");
  const auto answer = run({"remedies", yard.string(), "--json", "--quiet", "--cell", "0.5 m"});
  INFO(answer.err);
  REQUIRE(answer.code == 0);
  const auto json = nlohmann::json::parse(answer.out);
  CHECK(json["clogging"].size() == 3);
  CHECK(json["changes"].size() >= 3);
  CHECK(json["as_designed"]["areas"][0]["name"] == "lawn");
  CHECK_THAT(run({"remedies", yard.string(), "--quiet", "--cell", "0.5 m"}).out,
             ContainsSubstring("One thing changed at a time"));
}

TEST_CASE("where no limit is known, no source is named beside what was found") {
  const auto yard =
      small_yard("no-limit",
                 "[[design]]\nname = \"pit\"\n[[design.run]]\nname = \"to the pit\"\npath = [[6,5.5],[6,2]]\n"
                 "pipe = \"4 in corrugated, slotted\"\ntrench = { width = \"300 mm\", depth = \"400 mm\" }\n"
                 "fall = \"1 %\"\nto = \"pit\"\n[[design.drywell]]\nname = \"pit\"\nat = [6,2]\n"
                 "diameter = \"1 m\"\ndepth = \"1.2 m\"\n");
  std::string said = run({"check", yard.string()}).out, plain;
  for (const char c : said)
    if (c != '\n' && (c != ' ' || plain.empty() || plain.back() != ' '))
      plain += c;
    else if (c == '\n' && !plain.empty() && plain.back() != ' ')
      plain += ' ';
  CHECK_THAT(plain, ContainsSubstring("keeps water in the pipe") &&
                        !ContainsSubstring("(the building office says)") &&
                        ContainsSubstring("ask the building office"));
}
