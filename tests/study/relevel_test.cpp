#include <lowspot/study/relevel.hpp>

#include "catch.hpp"
#include "study/tuned_yard.hpp"

#include <lowspot/yard/drain_layout.hpp>

using namespace lowspot;

namespace {
// A leg in stone of 10 m at 1 % and a carrier of 20 m at 2 % on level ground at 5 m, out at the foot of a
// bank.
struct Laid {
  Laid() {
    SimpleYard small = bowl_to_tune();
    site = small.site;
    site::Design made = simple_drain(small, 0.5);
    site::Run leg = made.runs[0], carrier = made.runs[0];
    leg.name = "leg";
    leg.path = {{0, 0}, {10, 0}};
    leg.to = "tee";
    carrier.name = "carrier";
    carrier.path = {{10, 0}, {20, 0}, {30, 0}};
    carrier.has_trench = false;
    carrier.bedding = 0;
    carrier.pipe.slot_area = 0;
    carrier.fall = 0.02;
    carrier.trench_depth = site::not_given;
    carrier.from = "tee";
    made.runs = {leg, carrier};
    made.fittings = {{"tee", {10, 0}}};
    made.outlets[0].at = {30, 0};
    design = changed = made;
  }
  // Ground level at the outlet [m]; 5 elsewhere.
  std::string lay(const study::Levelling& wanted, double bank_foot) {
    const auto ground = [bank_foot](Point at) { return at.x > 29 ? bank_foot : 5.0; };
    return study::relevel(site, design, {true, false}, wanted, ground, changed);
  }
  double foot() const { return changed.runs[1].inverts.back(); }
  site::Site site;
  site::Design design, changed;
};
} // namespace

TEST_CASE("left alone, levels are those of the design") {
  Laid laid;
  CHECK(laid.lay({}, 4) == "");
  CHECK_THAT(laid.changed.runs[0].inverts.front(), WithinAbs(4.55, 1e-9));
  CHECK_THAT(laid.changed.runs[0].inverts.back(), WithinAbs(4.45, 1e-9));
  CHECK_THAT(laid.foot(), WithinAbs(4.05, 1e-9));
}

TEST_CASE("a deeper head flattens the carrier, a shallower one steepens it, and water leaves where it did") {
  for (const double depth : {0.3, 0.6}) {
    Laid laid;
    study::Levelling wanted;
    wanted.depth = depth;
    CHECK(laid.lay(wanted, 4) == "");
    CHECK_THAT(laid.changed.runs[0].inverts.front(), WithinAbs(5.05 - depth, 1e-9));
    CHECK_THAT(laid.changed.runs[0].inverts.back(), WithinAbs(4.95 - depth, 1e-9)); // still 1 %
    CHECK_THAT(laid.changed.runs[1].inverts.front(), WithinAbs(4.95 - depth, 1e-9));
    CHECK_THAT(laid.changed.runs[1].inverts[1], WithinAbs((4.95 - depth + 4.05) / 2, 1e-9)); // evenly
    CHECK_THAT(laid.foot(), WithinAbs(4.05, 1e-9));
  }
}

TEST_CASE("an outlet is lowered to the ground there, no further") {
  Laid deep;
  study::Levelling wanted;
  wanted.depth = 0.85; // the carrier would be left 0.25 % to the outlet of the design
  CHECK_THAT(deep.lay(wanted, 4.05), ContainsSubstring("0.25 %") && ContainsSubstring("0.5 %"));
  Laid lowered;
  CHECK(lowered.lay(wanted, 3.95) == "");
  CHECK_THAT(lowered.foot(), WithinAbs(3.95, 1e-9));
  wanted.depth = 1.0;
  Laid uphill;
  CHECK_THAT(uphill.lay(wanted, 4.0), ContainsSubstring("no fall left"));
}

TEST_CASE("a fall of one's own holds in the leg and the carrier makes up for it") {
  Laid laid;
  study::Levelling wanted;
  wanted.fall = 0.03;
  CHECK(laid.lay(wanted, 4) == "");
  CHECK_THAT(laid.changed.runs[0].inverts.back(), WithinAbs(4.25, 1e-9));
  CHECK_THAT(laid.foot(), WithinAbs(4.05, 1e-9));
  Laid direct; // without a carrier the outlet would have to sink
  direct.design.runs.resize(1);
  direct.design.runs[0].to = "outlet";
  direct.design.fittings.clear();
  direct.design.outlets[0].at = {10, 0};
  direct.changed = direct.design;
  const auto level = [](Point) { return 5.0; };
  CHECK_THAT(study::relevel(direct.site, direct.design, {true}, wanted, level, direct.changed),
             ContainsSubstring("below its outlet"));
  wanted.fall = site::not_given;
  wanted.depth = 0.45; // without a fall of its own the leg takes it all
  CHECK(study::relevel(direct.site, direct.design, {true}, wanted, level, direct.changed) == "");
  CHECK_THAT(direct.changed.runs[0].inverts.back(), WithinAbs(4.45, 1e-9));
}

TEST_CASE("a carrier that stands keeps its levels, and the new leg has to meet it") {
  Laid laid;
  laid.design.standing = laid.changed.standing = {"carrier", "tee", "outlet"};
  study::Levelling wanted;
  wanted.depth = 0.45; // 50 mm higher at its head than drawn
  CHECK(laid.lay(wanted, 4) == "");
  CHECK_THAT(laid.changed.runs[0].inverts.front(), WithinAbs(4.60, 1e-9));
  CHECK_THAT(laid.changed.runs[0].inverts.back(), WithinAbs(4.45, 1e-9)); // steeper itself
  CHECK_THAT(laid.changed.runs[1].inverts.front(), WithinAbs(4.45, 1e-9));
  CHECK_THAT(laid.foot(), WithinAbs(4.05, 1e-9));
  wanted.depth = 0.65; // below the tee
  CHECK_THAT(laid.lay(wanted, 4), ContainsSubstring("no fall left: 'leg'"));
}
