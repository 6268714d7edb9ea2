#include "catch.hpp"

#include <lowspot/study/limits_not_kept.hpp>

using namespace lowspot;

namespace {
results::CheckRecord failed(const std::string& id, const std::string& name, const std::string& about) {
  results::CheckRecord check;
  check.id = id;
  check.name = name;
  check.about = about;
  check.found = "as found";
  check.outcome = results::CheckOutcome::fail;
  return check;
}
} // namespace

TEST_CASE("limits that works do not keep: failed, of theirs, and not as it was; the most serious first") {
  results::CheckRecord passed = failed("pipe_fall", "Fall", "main");
  passed.outcome = results::CheckOutcome::pass;
  results::CheckRecord of_the_yard = failed("overflow", "Overflow", "house");
  of_the_yard.of_works = false;
  const std::vector<results::CheckRecord> before = {failed("house_fall", "Fall from the house", "house")};
  const auto list = study::limits_not_kept(
      before, {failed("silting", "Silting", "main"), passed, of_the_yard, before[0],
               failed("trench_depth", "Depth of the trench", "main"), failed("roots", "Roots", "oak")});
  REQUIRE(list.size() == 3);
  CHECK(list[0].id == "trench_depth");
  CHECK(list[1].id == "roots");
  CHECK(list[2].id == "silting");
  CHECK(study::not_kept_words(list) == "3 limits are not kept, the most serious: Depth of the trench (main)");
  CHECK(study::not_kept_words({list[1]}) == "1 limit is not kept: Roots (oak)");
  CHECK(study::not_kept_words({}).empty());
  CHECK(study::limit_name(failed("neighbour_increase", "Water sent over the south side", "south")) ==
        "Water sent over the south side"); // not said twice
  // Made worse by the works, it is theirs.
  results::CheckRecord worse = before[0];
  worse.found = "less than before";
  CHECK(study::limits_not_kept(before, {worse}).size() == 1);
}
