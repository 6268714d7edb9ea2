#include "catch.hpp"
#include "designs.hpp"

#include <lowspot/base/error.hpp>
#include <lowspot/job/takeoff.hpp>

using namespace lowspot;

namespace {
constexpr double yd3 = 0.764554857984;

job::TakeoffLine line_of(const job::Takeoff& takeoff, const std::string& item) {
  for (const job::TakeoffLine& line : takeoff.lines)
    if (line.item == item) return line;
  FAIL("no line " << item);
  return {};
}

// 100 ft of trench 12 in wide and on average 24 in deep.
SimpleYard yard_with_design() {
  SimpleYard yard = level_yard();
  site::Design design = round_design();
  design.runs[0].inverts = {(98 + 1.0 / 6 + 0.5) * foot, (98 + 1.0 / 6 - 0.5) * foot};
  yard.site.designs = {design};
  return yard;
}
} // namespace

// Hand figures: 7.4 bank cu yd of spoil, 5.8 cu yd of stone, about 630 sq ft of fabric with a 12-in lap.
TEST_CASE("a hundred feet of trench need what hand arithmetic says") {
  const SimpleYard yard = yard_with_design();
  const job::Takeoff takeoff = job::take_off(yard.site, yard.site.designs[0], yard.ground);
  const double pipe = M_PI / 4 * (4.6 / 12) * (4.6 / 12) * 100 / 27; // yd3
  CHECK_THAT(line_of(takeoff, "No. 57, rounded, washed").net / yd3,
             WithinRel(20.0 / 12 * 100 / 27 - pipe, 1e-6));
  CHECK_THAT(line_of(takeoff, "No. 57, rounded, washed").mass,
             WithinRel(1.08 * line_of(takeoff, "No. 57, rounded, washed").net * 1643, 1e-9));
  CHECK_THAT(line_of(takeoff, "nonwoven 6 oz").net / (foot * foot),
             WithinRel((2 * (1 + 20.0 / 12) + 1) * 100, 1e-6));
  CHECK_THAT(line_of(takeoff, "backfill").net / yd3, WithinRel(4.0 / 12 * 100 / 27, 1e-6));
  const job::TakeoffLine spoil = line_of(takeoff, "spoil hauled away");
  CHECK_THAT(spoil.net / yd3, WithinRel(200.0 / 27 - 4.0 / 12 * 100 / 27, 1e-6));
  CHECK_THAT(spoil.ordered, WithinRel(1.25 * spoil.net, 1e-12));
  CHECK(spoil.loads == std::ceil(spoil.ordered / (10 * yd3)));
  CHECK_THAT(line_of(takeoff, "4 in corrugated, slotted").ordered / foot,
             WithinAbs(110, 1e-9)); // 105 in tens
  CHECK_THAT(line_of(takeoff, "sod").net / (foot * foot), WithinRel(2.0 * 100, 1e-9));
}

TEST_CASE("what is dug is either put back, replaced or hauled away") {
  const SimpleYard yard = yard_with_design();
  const site::Design& design = yard.site.designs[0];
  const job::Takeoff takeoff = job::take_off(yard.site, design, yard.ground);
  const double dug = job::make_cut_sheet(yard.site, design, yard.ground, 1).runs[0].spoil;
  CHECK_THAT(line_of(takeoff, "backfill").net + line_of(takeoff, "spoil hauled away").net,
             WithinRel(dug, 1e-9));
}

TEST_CASE("costs come from the user's own rates, and from nothing else") {
  SimpleYard yard = yard_with_design();
  CHECK(job::take_off(yard.site, yard.site.designs[0], yard.ground).cost == 0);
  yard.site.ordering.rates = {
      {"Sod", 0.9, "ft2", 1}, {"No. 57, rounded, washed", 40, "ton", 2}, {"trench", 6, "ft", 3}};
  const job::Takeoff takeoff = job::take_off(yard.site, yard.site.designs[0], yard.ground);
  const double tons = line_of(takeoff, "No. 57, rounded, washed").mass / 907.18474;
  CHECK_THAT(takeoff.cost, WithinRel(0.9 * 220 + 40 * tons + 600, 1e-6));
  CHECK(takeoff.without_price == static_cast<int>(takeoff.lines.size()) - 3);
}

TEST_CASE("a rate that names nothing, or measures it wrongly, is refused") {
  SimpleYard yard = yard_with_design();
  yard.site.ordering.rates = {{"sodd", 0.9, "ft2", 7}};
  CHECK_THROWS_WITH(job::take_off(yard.site, yard.site.designs[0], yard.ground),
                    ContainsSubstring("did you mean \"sod\""));
  yard.site.ordering.rates = {{"sod", 0.9, "ton", 7}};
  CHECK_THROWS_WITH(job::take_off(yard.site, yard.site.designs[0], yard.ground),
                    ContainsSubstring("a unit that measures it") &&
                        ContainsSubstring("Write per = ft2 or m2,"));
  yard.site.ordering.rates = {{"No. 57, rounded, washed", 40, "ft", 7}};
  CHECK_THROWS_WITH(job::take_off(yard.site, yard.site.designs[0], yard.ground),
                    ContainsSubstring("Write per = yd3, m3, ton, tonne or load,"));
  // A part of a name finds it; what is like nothing is told what there is, since the list cannot be had yet.
  yard.site.ordering.rates = {{"spoil", 180, "load", 7}};
  CHECK_THROWS_WITH(job::take_off(yard.site, yard.site.designs[0], yard.ground),
                    ContainsSubstring("did you mean \"spoil hauled away\""));
  yard.site.ordering.rates = {{"permits", 180, "each", 7}};
  CHECK_THROWS_WITH(job::take_off(yard.site, yard.site.designs[0], yard.ground),
                    ContainsSubstring("Items are ") && ContainsSubstring("\"backfill\", ") &&
                        ContainsSubstring("\"trench\""));
}

TEST_CASE("hours of the crew are those of trenches, which is said where there is a pit as well") {
  SimpleYard yard = yard_with_design();
  site::Design& design = yard.site.designs[0];
  yard.site.ordering.dig_rate = 20 * foot / 3600;
  const auto said = [&] {
    const job::Takeoff takeoff = job::take_off(yard.site, design, yard.ground);
    CHECK_THAT(line_of(takeoff, "crew").net, WithinRel(100.0 / 20 * 3600, 1e-9));
    return std::any_of(takeoff.notes.begin(), takeoff.notes.end(), [](const std::string& note) {
      return note.find("hours of the crew are those of its trenches") != std::string::npos;
    });
  };
  CHECK_FALSE(said());
  site::Outlet well = daylight_outlet("well", {20 * foot, 5 * foot});
  well.kind = "dry well";
  well.well = {2, 5, 1.5, 0.4};
  design.outlets.push_back(well);
  CHECK(said());
}

TEST_CASE("bedding under a solid pipe is ordered, and its place in the trench is not backfilled") {
  SimpleYard yard = yard_with_design();
  site::Run& run = yard.site.designs[0].runs[0];
  run.has_trench = false;
  run.trench_width = 11 * inch;
  const auto lines = [&](double bedding) {
    run.bedding = bedding;
    return job::take_off(yard.site, yard.site.designs[0], yard.ground);
  };
  const job::Takeoff bedded = lines(4 * inch), plain = lines(0);
  // One kind of stone is one line, whichever trench it goes into: it comes on one truck.
  const std::string stone_name = run.stone.name;
  for (const job::TakeoffLine& line : plain.lines) CHECK(line.item != stone_name);
  const double stone = 100 * (11.0 / 12) * (4.0 / 12) * foot * foot * foot; // 1.13 cu yd
  CHECK_THAT(line_of(bedded, stone_name).net, WithinRel(stone, 1e-9));
  CHECK_THAT(line_of(bedded, stone_name).ordered, WithinRel(1.08 * stone, 1e-9));
  CHECK_THAT(line_of(bedded, stone_name).mass, WithinRel(1.08 * stone * 1643, 1e-9));
  CHECK_THAT(line_of(bedded, "spoil hauled away").net - stone,
             WithinRel(M_PI / 4 * std::pow(4.6 * inch, 2) * 100 * foot, 1e-9));
  run.bedding = 4 * inch;
  const double dug = job::make_cut_sheet(yard.site, yard.site.designs[0], yard.ground, 1).runs[0].spoil;
  CHECK_THAT(line_of(bedded, "backfill").net + line_of(bedded, "spoil hauled away").net,
             WithinRel(dug, 1e-9));
}

TEST_CASE("pipe in backfill that names no stone is bedded on the one kind that the trenches have") {
  SimpleYard yard = yard_with_design();
  site::Design& design = yard.site.designs[0];
  site::Run carrier = design.runs[0];
  carrier.name = "carrier";
  carrier.has_trench = false;
  carrier.trench_width = 11 * inch;
  carrier.bedding = 4 * inch;
  carrier.stone.name.clear();
  const std::string kind = design.runs[0].stone.name;
  const double alone = line_of(job::take_off(yard.site, design, yard.ground), kind).net;
  design.runs.push_back(carrier);
  job::Takeoff takeoff = job::take_off(yard.site, design, yard.ground);
  CHECK_THAT(line_of(takeoff, kind).net,
             WithinRel(alone + 100 * (11.0 / 12) * (4.0 / 12) * foot * foot * foot, 1e-9));
  // With no trench in stone there is no kind to take.
  design.runs = {carrier};
  takeoff = job::take_off(yard.site, design, yard.ground);
  CHECK(line_of(takeoff, "bedding stone").net > 0);
  for (const job::TakeoffLine& line : takeoff.lines) CHECK_FALSE(line.item.empty());
}

TEST_CASE("stone over the trench and in dry wells is sold by the ton, chips of wood are not") {
  SimpleYard yard = yard_with_design();
  site::Design& design = yard.site.designs[0];
  site::Outlet well = daylight_outlet("well", {20 * foot, 5 * foot});
  well.kind = "dry well";
  well.well = {2, 5, 1.5, 0.4};
  design.outlets.push_back(well);
  site::CapChoice& cap = design.runs[0].cap;
  const std::string below = design.runs[0].stone.name;
  const double lid = 100 * (4.0 / 12) * foot * foot * foot;
  cap = {"river stone", 0.1, 4 * inch};
  yard.site.ordering.rates = {{"river stone", 40, "ton", 1}, {"stone in dry wells", 50, "tonne", 2}};
  job::Takeoff takeoff = job::take_off(yard.site, design, yard.ground);
  CHECK_THAT(line_of(takeoff, "river stone").cost, WithinRel(40 * 1.08 * lid * 1643 / 907.18474, 1e-6));
  CHECK(line_of(takeoff, "river stone").loads == 1); // 1.3 cu yd
  const double trench = line_of(takeoff, below).net;
  // The stone of the trench brought up to the top is bought with it.
  cap = {"open stone", 0.1, 4 * inch, false, true};
  yard.site.ordering.rates = {{"stone in dry wells", 50, "tonne", 2}};
  takeoff = job::take_off(yard.site, design, yard.ground);
  CHECK_THAT(line_of(takeoff, below).net, WithinRel(trench + lid, 1e-9));
  CHECK_THAT(line_of(takeoff, below).mass, WithinRel(1.08 * (trench + lid) * 1643, 1e-9));
  for (const job::TakeoffLine& line : takeoff.lines) CHECK(line.item != "open stone");
  CHECK_THAT(line_of(takeoff, "stone in dry wells").cost, WithinRel(50 * 1.08 * 3 * 2.650 * 0.6, 1e-9));
  yard.site.ordering.rates = {{"mulch over stone", 40, "ton", 1}};
  cap = {"mulch over stone", 0.003, 4 * inch};
  CHECK_THROWS_WITH(job::take_off(yard.site, design, yard.ground), ContainsSubstring("a unit that measures"));
}

TEST_CASE("another design that cannot be built stops no take-off") {
  SimpleYard yard = yard_with_design();
  site::Design broken = yard.site.designs[0];
  broken.name = "broken";
  broken.runs[0].inverts = {101 * foot, 100.5 * foot}; // above the ground
  yard.site.designs.push_back(broken);
  REQUIRE_THROWS_AS(job::take_off(yard.site, yard.site.designs[1], yard.ground), InputError);
  const auto first = [&] { return job::take_off(yard.site, yard.site.designs[0], yard.ground); };
  const std::size_t notes = first().notes.size();
  yard.site.ordering.rates = {{"sod", 0.9, "ft2", 1}};
  CHECK(first().notes.size() == notes);
  CHECK_THAT(first().cost, WithinRel(0.9 * 220, 1e-6));
  yard.site.ordering.rates.push_back({"wye, 4 in", 9, "each", 2}); // perhaps a part of the broken one
  REQUIRE(first().notes.size() == notes + 1);
  CHECK_THAT(first().notes.back(),
             ContainsSubstring("'wye, 4 in' is not used here") && ContainsSubstring("'broken'"));
}

TEST_CASE("stone left open to the sky is not turfed over, a carrier under the lawn is") {
  const SimpleYard yard = yard_with_design();
  site::Run run = yard.site.designs[0].runs[0];
  run.cap = {"open stone", 0.1, 0, false};
  CHECK(job::sod_area(yard.site, run) == 0);
  run.has_trench = false;
  run.trench_width = 0;
  CHECK_THAT(job::sod_area(yard.site, run), WithinRel(100 * foot * (11 + 12) * inch, 1e-9));
}

TEST_CASE("what a later stage needs is what the whole needs less what stands") {
  SimpleYard yard = yard_with_design();
  site::Design whole = yard.site.designs[0];
  site::Run side = whole.runs[0];
  side.name = "side";
  side.path = {{60 * foot, 15 * foot}, {60 * foot, 10 * foot}};
  side.inverts = {98.4 * foot, 98.2 * foot};
  side.to = "joint";
  whole.runs[0].path = {{10 * foot, 10 * foot}, {60 * foot, 10 * foot}};
  whole.runs[0].inverts = {98.6 * foot, 98.1 * foot};
  whole.runs[0].to = "joint";
  site::Run carrier = whole.runs[0];
  carrier.name = "carrier";
  carrier.path = {{60 * foot, 10 * foot}, {110 * foot, 10 * foot}};
  carrier.inverts = {98.1 * foot, 97.6 * foot};
  carrier.from = "joint";
  carrier.to = "fence";
  whole.fittings = {{"joint", {60 * foot, 10 * foot}}};
  whole.runs.push_back(carrier);
  site::Design first = whole;
  first.name = "first";
  whole.runs.push_back(side);
  site::Design later = whole;
  later.name = "first, then side";
  later.after = "first";
  later.standing = {"main", "carrier", "joint", "fence"};
  yard.site.designs = {first, whole, later};
  const auto of = [&](std::size_t k) { return job::take_off(yard.site, yard.site.designs[k], yard.ground); };
  const job::Takeoff alone = of(0), all = of(1), second = of(2);
  for (const char* item : {"4 in corrugated, slotted", "No. 57, rounded, washed", "nonwoven 6 oz", "trench"})
    CHECK_THAT(line_of(second, item).net, WithinRel(line_of(all, item).net - line_of(alone, item).net, 1e-9));
  CHECK(line_of(second, "tee, 4 in").net == 1);
  for (const job::TakeoffLine& line : second.lines) CHECK(line.item != "outlet: daylight, 4 in");
}

TEST_CASE("a rate for what is too little to order is no slip of the pen") {
  SimpleYard yard = yard_with_design();
  site::Run& run = yard.site.designs[0].runs[0];
  run.has_trench = false;
  run.trench_width = 11 * inch;
  run.bedding = 0.002; // m: less than a bucket in all
  yard.site.ordering.rates = {{run.stone.name, 60, "yd3", 1}};
  const job::Takeoff takeoff = job::take_off(yard.site, yard.site.designs[0], yard.ground);
  for (const job::TakeoffLine& line : takeoff.lines) CHECK(line.item != run.stone.name);
  CHECK(takeoff.cost == 0);
}

TEST_CASE("lawn that is reshaped or dug away over a pit is said to ask for sod or seed") {
  SimpleYard yard = yard_with_design();
  site::Design& design = yard.site.designs[0];
  const auto notes = [&] {
    std::string text;
    for (const std::string& note : job::take_off(yard.site, design, yard.ground).notes) text += note + "\n";
    return text;
  };
  CHECK_THAT(notes(), !ContainsSubstring("sod or seed"));
  site::Regrade plane;
  plane.name = "plane", plane.kind = "plane";
  const double level = 100 * foot - 2 * inch;
  plane.outline = {
      {20 * foot, 1 * foot}, {40 * foot, 1 * foot}, {40 * foot, 6 * foot}, {20 * foot, 6 * foot}};
  plane.surface = {{20 * foot, 1 * foot, level}, {40 * foot, 1 * foot, level}, {20 * foot, 6 * foot, level}};
  design.regrades = {plane};
  CHECK_THAT(notes(), ContainsSubstring("100 ft² of lawn that is given another shape"));
  yard.site.lawn.kind = "mulched bed";
  CHECK_THAT(notes(), !ContainsSubstring("sod or seed"));
}

TEST_CASE("cloth under open stone lines bottom and sides and does not close the top") {
  const SimpleYard yard = level_yard();
  site::Design design = round_design();
  design.runs[0].cap = {"open stone", 0.08, 0, false, true};
  const auto fabric = [&] {
    double net = 0;
    for (const job::TakeoffLine& line : job::take_off(yard.site, design, yard.ground).lines)
      if (line.group == "fabric") net = line.net;
    return net;
  };
  const double open = fabric();
  design.runs[0].cap.of_stone = false; // something over the stone that must not wash into it
  // Across the top of 12 in, and 12 in of lap.
  CHECK_THAT(fabric() - open, WithinAbs(100 * foot * 24 * inch, 1e-6));
}

TEST_CASE("cloth of open and of covered stone is one line, which says how both are measured") {
  const SimpleYard yard = level_yard();
  site::Design design = round_design();
  design.runs.push_back(design.runs[0]);
  design.runs[1].name = "open", design.runs[1].cap = {"open stone", 0.08, 0, false, true};
  const std::string said = line_of(job::take_off(yard.site, design, yard.ground), "nonwoven 6 oz").allowance;
  CHECK(said == "15 % waste; the lap over the stone is counted in place; under open stone bottom and sides "
                "alone");
}
