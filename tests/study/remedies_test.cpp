#include <lowspot/study/progress_board.hpp>
#include <lowspot/study/remedies.hpp>

#include <cmath>

#include "catch.hpp"
#include "simple_yard.hpp"

using namespace lowspot;
using namespace lowspot::study;

namespace {
const Remedy& the(const std::vector<Remedy>& list, const std::string& id) {
  for (const Remedy& remedy : list)
    if (remedy.id == id) return remedy;
  FAIL("no " << id);
  return list.front();
}
Remedy with(double hours, bool clears, const std::string& name = "x") {
  Remedy remedy;
  remedy.name = name;
  remedy.hours = {hours};
  remedy.still_standing = {false};
  remedy.clears = clears;
  return remedy;
}
// A hollow under a tight cap.
SimpleYard capped_hollow() {
  SimpleYard yard = simple_yard(
      16, 12, 0.25, [](double x, double y) { return 1.2 - 0.005 * x + 0.03 * std::abs(y - 1.5); });
  rain_at(yard, 1e-5, 1800);
  yard.site.storm.blocks = {{1800, 1e-5}};
  yard.site.storm.pattern = "blocks";
  yard.site.storm.dry = 12 * 3600;
  add_whole_area(yard, "yard");
  yard.site.designs = {simple_drain(yard, 0.45)};
  yard.site.designs[0].runs[0].cap = {"soil", 2e-5, 0.1};
  return yard;
}
catalog::Catalog shipped_catalog() {
  return catalog::read_catalog(std::string(LOWSPOT_SOURCE_DATA) + "/catalog");
}
} // namespace

TEST_CASE("what still stands when the run ends is more than any hours") {
  // As designed one of two areas outlasts the run of 72 hours.
  Remedies found;
  found.as_designed = with(72, false);
  found.as_designed.hours = {72, 5};
  found.as_designed.still_standing = {true, false};
  Remedy clears = with(71.9, false, "clears"), shorter = found.as_designed;
  clears.hours = {71.9, 5};
  clears.still_standing = {false, false};
  shorter.name = "shorter";
  shorter.hours = {72, 0};
  found.changes = {shorter, clears};
  sort_changes(found.changes);
  CHECK(found.changes[0].name == "clears"); // 76.9 hours in all, and 72 of which one area is still wet
  found.changes = {clears};
  CHECK_THAT(remedies_sentence(found), ContainsSubstring("What buys most is clears"));
  found.changes = {shorter};
  CHECK_THAT(remedies_sentence(found), ContainsSubstring("What buys most is shorter"));
  // How long it stands beyond the run is not known, so nothing is said of a quarter of an hour.
  found.changes = {found.as_designed};
  CHECK_THAT(remedies_sentence(found),
             ContainsSubstring("No single change would let that dry within the time simulated."));
  // One that lets another area stand to the end buys nothing, whatever the sum.
  found.as_designed = with(70, false);
  found.changes = {with(60, false, "longer")};
  found.changes[0].still_standing = {true};
  CHECK_THAT(remedies_sentence(found), ContainsSubstring("No single change would shorten that"));
  found.as_designed = with(0, false);
  found.as_designed.still_standing = {true}; // the run ends with the rain
  CHECK_THAT(remedies_sentence(found), !ContainsSubstring("nothing to shorten"));
}

TEST_CASE("a hollow under a tight cap: opening it buys most, clogging it costs") {
  const SimpleYard yard = capped_hollow();
  const site::Design& design = yard.site.designs[0];
  const catalog::Catalog catalog = shipped_catalog();
  const Remedies found = find_remedies(yard.site, yard.ground, catalog, design);
  REQUIRE(found.areas == std::vector<std::string>{"yard"});
  CHECK(found.changes.front().id == "open_cap");
  CHECK(the(found.changes, "open_cap").hours[0] < 0.5 * found.as_designed.hours[0]);
  CHECK(found.as_designed.limited_by == "cap");
  CHECK(found.as_designed.hours[0] < found.as_is.hours[0]);
  REQUIRE(found.clogging.size() == 3);
  CHECK(found.clogging[0].hours[0] >= found.as_designed.hours[0]);
  CHECK(found.clogging[2].hours[0] >= found.clogging[0].hours[0]);
  CHECK_THAT(found.sentence, ContainsSubstring("stone up to the surface"));
  CHECK(found.stopped.empty());

  // Stopped in the sixth run: the five before it are what they were, and what was not run is not there.
  const auto count = static_cast<double>(found.changes.size() + 5);
  RemedyOptions options;
  options.threads = 1;
  options.keep_finished = true;
  options.progress = [&](double share) { return share * count < 5.1; };
  const Remedies part = find_remedies(yard.site, yard.ground, catalog, design, options);
  CHECK(part.stopped == "Stopped by you after 5 of " + std::to_string(found.changes.size() + 5) + " runs.");
  CHECK_THAT(part.sentence, (ContainsSubstring(part.stopped) && ContainsSubstring("that was run")) ||
                                ContainsSubstring("Of the changes that were run"));
  CHECK(part.as_designed.hours == found.as_designed.hours);
  CHECK(part.as_is.hours == found.as_is.hours);
  CHECK(part.clogging.empty());
  REQUIRE(part.changes.size() == 3);
  for (const Remedy& change : part.changes) CHECK(change.hours == the(found.changes, change.id).hours);
  options.progress = [&](double share) { return share * count < 2.1; };
  CHECK_THROWS_AS(find_remedies(yard.site, yard.ground, catalog, design, options), Stopped);
  options.keep_finished = false;
  options.progress = [&](double share) { return share * count < 5.1; };
  CHECK_THROWS_AS(find_remedies(yard.site, yard.ground, catalog, design, options), Stopped);
}

TEST_CASE("the sentence says what buys most and how much clogging is borne") {
  Remedies remedies;
  remedies.design = "drain";
  remedies.as_designed = with(10, true);
  remedies.changes = {with(4, true, "a larger pipe")};
  remedies.clogging = {with(12, true, "cap 3 times less open"), with(30, false, "cap 10 times less open"),
                       with(60, false, "cap 30 times less open")};
  CHECK_THAT(
      remedies_sentence(remedies),
      ContainsSubstring("a larger pipe") &&
          ContainsSubstring(" The target is still met with cap 3 times less open, and missed with cap 10 "
                            "times less open."));
  remedies.clogging[0].clears = false;
  CHECK_THAT(remedies_sentence(remedies),
             ContainsSubstring("is missed with no more than cap 3 times less open."));
  CHECK_THAT(remedies_sentence(remedies),
             ContainsSubstring(
                 "\"drain\" leaves water standing for about 10 hours. What buys most is a larger pipe: "
                 "water then stands for about 4 hours, within the target."));
  remedies.as_designed.still_standing = {true};
  CHECK_THAT(remedies_sentence(remedies),
             ContainsSubstring("leaves water standing to the end of the time simulated."));
  remedies.as_designed.still_standing = {false};
  remedies.changes = {with(9.9, true, "a larger pipe")};
  CHECK_THAT(remedies_sentence(remedies), ContainsSubstring("No single change"));
  remedies.as_designed = with(0, true);
  CHECK_THAT(remedies_sentence(remedies),
             ContainsSubstring("There is nothing to shorten.") && !ContainsSubstring("No single change"));
  remedies.as_designed = with(10, true);
  remedies.clogging = {with(12, true), with(13, true), with(14, true, "cap 30 times less open")};
  CHECK_THAT(remedies_sentence(remedies), ContainsSubstring("still met with cap 30 times less open."));
  remedies.as_designed.clears = false;
  CHECK_THAT(remedies_sentence(remedies), ContainsSubstring("even with nothing clogged yet"));
  remedies.beds_besides = true;
  CHECK_THAT(remedies_sentence(remedies),
             ContainsSubstring("The target for standing water is missed even with nothing clogged yet"));
  remedies.as_designed.clears = true;
  CHECK_THAT(remedies_sentence(remedies),
             ContainsSubstring("The target for standing water is still met with cap 30 times less open."));
  remedies.nothing_clogs = true;
  CHECK_THAT(remedies_sentence(remedies), ContainsSubstring("neither stone nor fabric that could clog"));
}

TEST_CASE("what makes a check fail is not named alone as what buys most") {
  Remedies remedies;
  remedies.design = "drain";
  remedies.as_designed = with(10, true);
  remedies.nothing_clogs = true;
  remedies.changes = {with(2, true, "all of it 6 in deeper"), with(4, true, "a larger pipe"),
                      with(9.9, true, "clean fabric")};
  remedies.changes[0].newly_fails = {"Depth of the trench, main", "Freezing, main"};
  CHECK_THAT(
      remedies_sentence(remedies),
      ContainsSubstring("What buys most of what breaks no limit that is kept now is a larger pipe: water "
                        "then stands for about 4 hours, within the target. More would buy all of it 6 in "
                        "deeper: water then stands for about 2 hours, within the target; but then fails: "
                        "Depth of the trench, main; Freezing, main."));
  remedies.changes.erase(remedies.changes.begin() + 1); // the other is worth nothing
  CHECK_THAT(
      remedies_sentence(remedies),
      ContainsSubstring("What buys most is all of it 6 in deeper: water then stands for about 2 hours, "
                        "within the target; but then fails: Depth of the trench, main; Freezing, main."));
}

TEST_CASE("open stone clogs as well, and what has no trench does not") {
  SimpleYard yard = capped_hollow();
  site::Run& run = yard.site.designs[0].runs[0];
  run.cap = {"open stone", run.stone.conductivity, 0};
  run.fabric = {}; // fines on the stone are all that can come
  const Remedies found = find_remedies(yard.site, yard.ground, shipped_catalog(), yard.site.designs[0]);
  REQUIRE(found.clogging.size() == 3);
  CHECK(found.clogging[0].name == "fines on the open stone that take in 120 mm/hr");
  CHECK(found.clogging[2].hours[0] > found.as_designed.hours[0] + 0.5);
  CHECK(found.clogging[2].limited_by == "cap");
  run.has_trench = false;
  run.pipe.slot_area = 0;
  const Remedies pipe = find_remedies(yard.site, yard.ground, shipped_catalog(), yard.site.designs[0]);
  CHECK(pipe.clogging.empty());
  CHECK(pipe.nothing_clogs);
  CHECK_THAT(pipe.sentence, ContainsSubstring("neither stone nor fabric"));
}
TEST_CASE("a yard without areas is judged by its wettest spot") {
  SimpleYard yard = capped_hollow();
  yard.site.areas.clear();
  yard.ground.areas.clear();
  yard.site.target.clear_within = 1800;
  const Remedies found = find_remedies(yard.site, yard.ground, shipped_catalog(), yard.site.designs[0]);
  REQUIRE(found.areas == std::vector<std::string>{"the wettest spot"});
  REQUIRE(found.as_is.hours.size() == 1);
  CHECK_FALSE(found.as_is.clears);
  CHECK_FALSE(found.as_designed.clears);
  CHECK(found.changes.front().id == "open_cap");
}
