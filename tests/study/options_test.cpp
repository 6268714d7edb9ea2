#include <lowspot/study/options.hpp>

#include "catch.hpp"
#include "study/tuned_yard.hpp"

using namespace lowspot;

namespace {
results::DesignRecord record(const std::string& name, double hours) {
  results::DesignRecord made;
  made.name = name;
  results::AreaRecord area;
  area.name = "yard";
  area.standing_hours_after_rain = hours;
  area.soggy_hours_after_rain = 2 * hours;
  area.clear_within_target = hours <= 24;
  made.areas = {area};
  made.edges = {{"south", 0.001 * hours, hours}};
  made.outlets = {{"lawn pop-up", 1e-4, 4}};
  return made;
}
struct Case {
  Case() : yard(yard_to_tune([](double, double) { return 1.0; })) {
    site::Design wide = yard.site.designs.front();
    wide.name = "wide";
    wide.runs[0].trench_width = 0.6;
    site::Design slim = wide;
    slim.name = "slim";
    slim.runs[0].trench_width = 0.2;
    yard.site.designs = {wide, yard.site.designs.front(), slim};
    all.clear_within = 86400;
    all.designs = {record("as is", 80), record("wide", 2), record("drain", 5), record("slim", 40)};
  }
  std::vector<std::string> order() const {
    std::vector<std::string> names;
    for (const auto& option : study::rank_options(yard.site, yard.ground, all)) names.push_back(option.name);
    return names;
  }
  SimpleYard yard;
  results::Comparison all;
};
} // namespace

TEST_CASE("what works comes first, the least to dig before the rest; doing nothing is an option") {
  const Case one;
  CHECK(one.order() == std::vector<std::string>{"drain", "wide", "as is", "slim"});
  const auto options = study::rank_options(one.yard.site, one.yard.ground, one.all);
  CHECK(options[0].works);
  CHECK(options[0].dig_volume > 0);
  CHECK(options[0].soggy_hours == 10);
  REQUIRE(options[0].edges.size() == 1);
  CHECK(options[0].edges[0].volume_before == 80);
  CHECK(options[0].edges[0].volume == 5);
  CHECK(options[0].drained == 4); // by the books none of it has left the yard
  CHECK(options[0].upkeep.size() == 2);
  CHECK(options[2].dig_volume == 0);
  CHECK(options[2].upkeep.empty());
  REQUIRE(options[3].not_kept.size() == 1);
  CHECK_THAT(options[3].not_kept[0], ContainsSubstring("yard stands about 40 hours"));
}

TEST_CASE("of what works, what keeps every limit comes before what does not") {
  Case one;
  results::CheckRecord check;
  check.id = "roots";
  check.name = "Roots of trees";
  check.outcome = results::CheckOutcome::fail;
  one.all.designs[2].checks = {check};
  CHECK(one.order() == std::vector<std::string>{"wide", "drain", "as is", "slim"});
}

TEST_CASE("with rates of one's own the cheapest comes first") {
  Case one;
  one.yard.site.ordering.rates = {{"trench", 10, "m", 0}};
  one.yard.site.designs[0].runs[0].path[0].x = 3; // a short wide trench
  CHECK(one.order() == std::vector<std::string>{"wide", "drain", "as is", "slim"});
  const auto options = study::rank_options(one.yard.site, one.yard.ground, one.all);
  CHECK_THAT(options[0].cost, WithinRel(20.0, 1e-9));
  CHECK(options[2].cost == 0);
}

TEST_CASE("a sum that leaves out an item is not held against one that has it") {
  Case one;
  one.yard.site.designs[0].runs[0].path[0].x = 1.5; // a short wide trench, with more to dig than the long one
  one.yard.site.designs[0].runs[0].pipe.name = "a rare pipe";
  one.yard.site.ordering.rates = {{"trench", 10, "m", 0}};
  auto options = study::rank_options(one.yard.site, one.yard.ground, one.all);
  CHECK(study::priced_alike(options));
  CHECK(options[0].name == "wide");
  // A price for the pipe of the others leaves one item more out of the sum of this one.
  one.yard.site.ordering.rates.push_back({one.yard.site.designs[1].runs[0].pipe.name, 0.01, "m", 0});
  options = study::rank_options(one.yard.site, one.yard.ground, one.all);
  CHECK_FALSE(study::priced_alike(options));
  REQUIRE(options[1].name == "wide");
  CHECK(options[1].without_price == options[0].without_price + 1);
  CHECK(options[1].cost < options[0].cost);
  CHECK(options[1].dig_volume > options[0].dig_volume);
}

TEST_CASE("without areas an option still stands where its wettest spot does") {
  Case one;
  for (results::DesignRecord& design : one.all.designs) {
    design.areas.clear();
    design.standing_hours = {12};
  }
  one.all.designs[3].still_standing = true;
  const auto options = study::rank_options(one.yard.site, one.yard.ground, one.all);
  REQUIRE(options.back().name == "slim");
  CHECK(options.back().still_standing);
  CHECK_FALSE(options.back().works);
  CHECK_THAT(options.back().not_kept[0], ContainsSubstring("the wettest spot still stands at the end"));
}

TEST_CASE("a bed that is still soggy when the simulated time ends is told so") {
  Case one;
  one.all.soggy_limit = 36 * 3600;
  results::BedRecord bed;
  bed.name = "bed", bed.soggy_hours = 24, bed.still_soggy = true;
  for (results::DesignRecord& design : one.all.designs) design.beds = {bed};
  const auto options = study::rank_options(one.yard.site, one.yard.ground, one.all);
  REQUIRE_FALSE(options[0].not_kept.empty());
  CHECK_THAT(options[0].not_kept.back(),
             ContainsSubstring("bed still soggy at the end, agreed about 36 hours"));
}
