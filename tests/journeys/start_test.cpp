#include "catch.hpp"

#include <unistd.h>

#include "journeys/program.hpp"

using journey::run;

TEST_CASE("what start writes can be checked and compared at once") {
  const auto folder = journey::fresh_folder("start") / "my-yard";
  CHECK(run({"start", folder.string()}).code == 0);
  REQUIRE(std::filesystem::exists(folder / "site.toml"));
  const journey::Answer check = run({"check", folder.string()});
  INFO(check.err);
  CHECK(check.code == 0);
  CHECK_THAT(check.out, ContainsSubstring("can be run"));
  // Coarse cells: this is about the way there, not the answer.
  const journey::Answer compare = run({"compare", folder.string(), "--cell", "2 ft", "--quiet"});
  INFO(compare.err);
  CHECK(compare.code == 0);
  CHECK(std::filesystem::exists(folder / "results" / "report.html"));
  CHECK(std::filesystem::exists(folder / "results" / "summary.json"));
}

TEST_CASE("start does not overwrite a yard") {
  const auto folder = journey::fresh_folder("start_twice") / "yard";
  REQUIRE(run({"start", folder.string()}).code == 0);
  journey::write(folder / "site.toml", "# mine\n");
  CHECK(run({"start", folder.string()}).code == 2);
  CHECK(journey::content(folder / "site.toml") == "# mine\n");
}

TEST_CASE("check says nothing where it is asked to be quiet, and looks at cells of another size") {
  const auto folder = journey::fresh_folder("quiet_check") / "yard";
  REQUIRE(journey::run({"start", folder.string(), "--quiet"}).code == 0);
  const std::string site = journey::content(folder / "site.toml");
  journey::Answer answer = journey::run({"check", folder.string(), "--quiet"});
  CHECK(answer.code == 0);
  CHECK(answer.out + answer.err == "");
  CHECK(journey::run({"takeoff", folder.string(), "--quiet"}).err == "");
  answer = journey::run({"check", folder.string(), "--cell", "12 ft"});
  CHECK(answer.code == 0);
  CHECK_THAT(answer.out, ContainsSubstring("a cell of 12 ft") && !ContainsSubstring("  site.cell"));
  journey::write(folder / "site.toml", site + "\n[[sol]]\n");
  answer = journey::run({"check", folder.string(), "--quiet"});
  CHECK(answer.code == 2);
  CHECK_THAT(answer.err, ContainsSubstring("sol"));
}
