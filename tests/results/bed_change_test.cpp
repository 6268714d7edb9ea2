#include "catch.hpp"

#include <lowspot/results/bed_change.hpp>

using namespace lowspot::results;

TEST_CASE("a bed's loss is shared between run-on that goes elsewhere and perched water that is gone") {
  const BedBudget before{0.050, 0.030, 0.006, 0, 0.02, 0.04, 0.026};
  const BedBudget after{0.050, 0.012, 0.004, 0.004, 0.019, 0.03, 0.013};
  const BedChange change = bed_change(before, after);
  CHECK_THAT(change.run_on, WithinAbs(-0.018, 1e-15));
  CHECK_THAT(change.perched, WithinAbs(-0.006, 1e-15));
  CHECK_THAT(change.supply, WithinAbs(change.run_on + change.perched, 1e-15));
  // All that no longer comes is missing from what is drunk, leaked or left.
  CHECK_THAT(change.supply, WithinAbs(change.drunk + change.leaked + (after.change - before.change), 1e-15));
  CHECK_THAT(why_sentence(before, after), ContainsSubstring("75 % of that because water that ran on"));
  CHECK_THAT(why_sentence(before, after), ContainsSubstring("25 % because the ground around it"));
  CHECK_THAT(why_sentence(after, before), ContainsSubstring("more water"));
  CHECK(why_sentence(before, before).empty());
}

TEST_CASE("one cause alone is said alone") {
  BedBudget before{0.05, 0.03, 0, 0, 0, 0, 0.08}, after = before;
  after.run_on = 0.01, after.change = 0.06;
  CHECK_THAT(why_sentence(before, after),
             ContainsSubstring("by 25 %, because water that ran on to it goes elsewhere."));
}
