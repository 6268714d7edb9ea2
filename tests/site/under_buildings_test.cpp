#include <lowspot/site/under_buildings.hpp>

#include "sample.hpp"

using namespace sample;

namespace {
// A house of 20 by 12 ft, and a drain that passes it.
const std::string house = "[[building]]\nname = \"house\"\nrectangle = [10, 25, 20, 12]\n";
std::string run(const std::string& path) {
  return house + "[[design]]\nname = \"d\"\n[[design.run]]\nname = \"leg\"\npath = " + path +
         "\npipe = \"3 in corrugated, slotted\"\n";
}
const std::string clear = run("[[5, 20], [50, 20]]");
} // namespace

TEST_CASE("pits, outlets, grates and rain gardens do not stand under a building") {
  const auto pit = error_of(yard(clear + "[[design.drywell]]\nname = \"pit\"\nat = [20, 30]\n"));
  CHECK(pit.where.key == "design[1].drywell[1].at");
  CHECK_THAT(pit.found, ContainsSubstring("under the building \"house\", 5 ft inside"));
  CHECK(error_of(yard(clear + "[[design.outlet]]\nname = \"out\"\nat = [20, 30]\n")).where.key ==
        "design[1].outlet[1].at");
  CHECK(error_of(yard(clear + "[[design.inlet]]\nat = [20, 30]\nto = \"leg\"\n")).where.key ==
        "design[1].inlet[1].at");
  const std::string pump = "[[design.outlet]]\nname = \"p\"\nkind = \"pump\"\nrate = \"20 gal/min\"\n";
  CHECK(error_of(yard(clear + pump + "at = [40, 30]\ndischarge = [20, 30]\n")).where.key ==
        "design[1].outlet[1].discharge");
  const auto garden =
      error_of(yard(clear + "[[design.basin]]\nname = \"garden\"\nrectangle = [25, 30, 10, 5]\n"));
  CHECK(garden.where.key == "design[1].basin[1].rectangle");
  CHECK_THAT(garden.found, ContainsSubstring("50 % lies under the building"));
}

TEST_CASE("works on a wall or beside it stand") {
  CHECK_NOTHROW(read(yard(clear + "[[design.drywell]]\nname = \"pit\"\nat = [20, 25.3]\n"
                                  "[[design.basin]]\nname = \"garden\"\nrectangle = [30, 30, 10, 5]\n")));
  CHECK_FALSE(warned(read(yard(clear)), "under the building"));
}

TEST_CASE("a run under a building is warned of with its length") {
  CHECK(warned(read(yard(run("[[5, 30], [50, 30]]"))), "runs under the building \"house\" for 20 ft"));
  CHECK(warned(read(yard(run("[[20, 30], [20, 10]]"))), "runs under the building"));
  CHECK_FALSE(warned(read(yard(run("[[20, 27], [20, 10]]"))), "under the building"));
  CHECK(warned(read(yard(clear + "[[design.channel]]\npath = [[50, 30], [5, 30], [5, 20]]\nto = \"leg\"\n")),
               "runs under the building"));
}
