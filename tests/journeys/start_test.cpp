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
