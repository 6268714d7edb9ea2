#include "catch.hpp"

#include <unistd.h>

#include <algorithm>
#include <sstream>

#include "journeys/program.hpp"

using journey::run;

TEST_CASE("help names every command, with examples; version names the program") {
  const journey::Answer help = run({"--help"});
  CHECK(help.code == 0);
  for (const char* command : {"start", "check", "levels", "diagnose", "compare", "tune", "hosetest",
                              "remedies", "storms", "yearlater", "catalog"}) {
    CHECK_THAT(help.out, ContainsSubstring(command));
    const journey::Answer own = run({command, "--help"});
    CHECK(own.code == 0);
    CHECK_THAT(own.out, ContainsSubstring("Example"));
  }
  CHECK_THAT(run({"--version"}).out, ContainsSubstring("lowspot 0."));
}

TEST_CASE("help asked for as a word is what is asked for with dashes") {
  CHECK(run({"help"}).code == 0);
  CHECK(run({"help"}).out == run({"--help"}).out);
  CHECK(run({"help", "takeoff"}).out == run({"takeoff", "--help"}).out);
  CHECK(run({"help", "quote"}).out == run({"--help"}).out); // no such command: all that there are
}

namespace {

// The lines of a help text that are commands to type, without what is said of them behind two spaces.
std::vector<std::string> examples_in(const std::string& help) {
  std::vector<std::string> found;
  std::istringstream lines(help.substr(help.find("\nExample")));
  for (std::string line; std::getline(lines, line);) {
    if (line.rfind("  lowspot ", 0) != 0) continue;
    line.erase(0, 10);
    found.push_back(line.substr(0, line.find("  ")));
  }
  return found;
}

} // namespace

TEST_CASE("every example of the help runs as it is printed, on the yard that start writes") {
  const journey::fs::path folder = journey::fresh_folder("examples");
  journey::write(folder / "gauge.csv", "time,rain_in\n2025-05-03 10:00,0.4\n2025-05-03 11:00,0.6\n");
  journey::write(folder / "trench.csv", "station,reading,run\n0+05,6.35,carrier\n");
  std::vector<std::string> tried;
  // Those of the program come last: most are the beginning of a command's own.
  for (const char* command : {"start", "check", "levels", "diagnose", "compare", "tune", "storms", "cutsheet",
                              "takeoff", "hosetest", "yearlater", "remedies", "catalog", ""}) {
    const std::vector<std::string> examples =
        examples_in((*command == '\0' ? run({"--help"}) : run({command, "--help"})).out);
    CHECK_FALSE(examples.empty());
    for (const std::string& example : examples) {
      const bool begun = std::any_of(tried.begin(), tried.end(),
                                     [&](const std::string& other) { return other.rfind(example, 0) == 0; });
      if (begun) continue;
      tried.push_back(example);
      INFO("lowspot " << example);
      CHECK(std::system(("cd " + journey::quoted(folder.string()) + " && " +
                         journey::quoted(LOWSPOT_PROGRAM) + " " + example + " >said 2>&1 </dev/null")
                            .c_str()) == 0);
      if (std::string(command) != "start") continue;
      std::string site =
          journey::content(folder / "my-yard/site.toml"); // large cells: it is the words that count
      site.insert(site.find("units "), "cell = \"2 ft\"\n");
      journey::write(folder / "my-yard/site.toml", site);
    }
  }
  CHECK(tried.size() > 13);
}

TEST_CASE("mistyped words are answered with the nearest one, exit code 2") {
  const journey::Answer command = run({"comapre", "x"});
  CHECK(command.code == 2);
  CHECK_THAT(command.err, ContainsSubstring("did you mean 'compare'"));
  const journey::Answer option = run({"compare", "x", "--desing", "y"});
  CHECK(option.code == 2);
  CHECK_THAT(option.err, ContainsSubstring("did you mean '--design'"));
  const journey::Answer joined = run({"compare", "x", "--desing=y"});
  CHECK(joined.code == 2);
  CHECK_THAT(joined.err, ContainsSubstring("'--desing' is not known; did you mean '--design'"));
  CHECK(run({}).code == 2);
  CHECK(run({"catalog", "pipse"}).code == 2);
}

TEST_CASE("a value that is no number is named with its option, what was expected and how to mend it") {
  for (const std::vector<std::string>& words :
       {std::vector<std::string>{"--seed=x"}, std::vector<std::string>{"--seed", "x"}}) {
    std::vector<std::string> command = {"compare", "x"};
    command.insert(command.end(), words.begin(), words.end());
    const journey::Answer answer = run(command);
    CHECK(answer.code == 2);
    CHECK_THAT(answer.err, ContainsSubstring("--seed: found \"x\"; expected a whole number, 0 or more") &&
                               ContainsSubstring("To mend it: write it like --seed 1") &&
                               !ContainsSubstring("did you mean"));
  }
  const journey::Answer bare = run({"compare", "x", "--seed"});
  CHECK(bare.code == 2);
  CHECK_THAT(bare.err, ContainsSubstring("--seed: found nothing after it"));
}

TEST_CASE("no colour codes in a file, nor with NO_COLOR") {
  for (const char* environment : {"", "NO_COLOR=1", "TERM=dumb"}) {
    const journey::Answer answer = run({"check", "/nowhere/at/all"}, environment);
    CHECK(answer.code == 2);
    CHECK(answer.err.find('\x1b') == std::string::npos);
    CHECK(answer.out.find('\x1b') == std::string::npos);
  }
}

TEST_CASE("the catalogue lists each table with its sources") {
  const journey::Answer all = run({"catalog"});
  CHECK(all.code == 0);
  for (const char* name :
       {"silt loam", "3 in corrugated", "No. 57, rounded, washed", "nonwoven 6 oz", "open stone", "source:"})
    CHECK_THAT(all.out, ContainsSubstring(name));
  const auto json = nlohmann::json::parse(run({"catalog", "pipes", "--json"}).out);
  REQUIRE(json.contains("pipes"));
  for (const auto& row : json["pipes"]) {
    CHECK_FALSE(row["source"].get<std::string>().empty());
    CHECK_FALSE(row["mark"].get<std::string>().empty());
  }
  // 3 in are 76.2 mm; 0.945 square inches a foot are 6.097 cm2 on 0.3048 m.
  const std::string metric = run({"catalog", "pipes", "--metric"}).out;
  CHECK_THAT(metric, ContainsSubstring("inside 76.2 mm;") && ContainsSubstring("openings 20 cm2/m") &&
                         !ContainsSubstring(" in;") && !ContainsSubstring("in2/ft"));
  CHECK_THAT(run({"catalog", "limits", "--metric"}).out, ContainsSubstring("at least 152 mm"));
  // The laboratory's figure of silt loam, 6.8 mm/hr in the catalogue, is there to compare a report with.
  CHECK_THAT(run({"catalog", "soils", "--metric", "--json"}).out,
             ContainsSubstring("\"in the laboratory, saturated\""));
  // A value and its range are rounded alike, so that the value does not lie outside.
  CHECK_THAT(run({"catalog", "plants", "--json"}).out, ContainsSubstring("336 (336 to 1440)"));
}

TEST_CASE("whatever runs the yard can be kept to a number of threads, and answers the same with any") {
  for (const char* command :
       {"compare", "tune", "storms", "yearlater", "remedies", "diagnose", "hosetest", "cutsheet"}) {
    INFO(command);
    CHECK_THAT(run({command, "--help"}).out, ContainsSubstring("--threads"));
  }
  const journey::fs::path folder = journey::fresh_folder("threads");
  const std::string yard = (folder / "yard").string();
  REQUIRE(run({"start", yard}).code == 0);
  for (const std::string command : {"hosetest", "diagnose"}) {
    const std::vector<std::string> words = {command, yard, "--cell", "2 ft", "--json", "--threads"};
    const auto with = [&](const std::string& threads) {
      std::vector<std::string> all = words;
      all.push_back(threads);
      return run(all);
    };
    const journey::Answer one = with("1"), three = with("3");
    CHECK(one.code == 0);
    CHECK_FALSE(one.out.empty());
    CHECK(with("2000").code == 2);
    auto first = nlohmann::json::parse(one.out), second = nlohmann::json::parse(three.out);
    CHECK(first == second);
  }
}
