#include "catch.hpp"

#include <unistd.h>

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

TEST_CASE("mistyped words are answered with the nearest one, exit code 2") {
  const journey::Answer command = run({"comapre", "x"});
  CHECK(command.code == 2);
  CHECK_THAT(command.err, ContainsSubstring("did you mean 'compare'"));
  const journey::Answer option = run({"compare", "x", "--desing", "y"});
  CHECK(option.code == 2);
  CHECK_THAT(option.err, ContainsSubstring("did you mean '--design'"));
  CHECK(run({}).code == 2);
  CHECK(run({"catalog", "pipse"}).code == 2);
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
  // A value and its range are rounded alike, so that the value does not lie outside.
  CHECK_THAT(run({"catalog", "plants", "--json"}).out, ContainsSubstring("336 (336 to 1440)"));
}
