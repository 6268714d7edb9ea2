#include "catch.hpp"

#include <algorithm>

#include <lowspot/terrain/slips.hpp>

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
constexpr double foot = 0.3048;
// The change of elevation [units] by the slip that makes `meant` of what was written; 99 where there is none.
double change(const Written& written, SlipKind kind, const std::string& meant) {
  for (const Slip& slip : possible_slips(written))
    if (slip.kind == kind && slip.meant == meant) return slip.change / written.unit;
  return 99;
}
} // namespace

TEST_CASE("a rod reading and what it may have been meant to be", "[slips]") {
  const Written rod{"5.34", foot, -1};
  CHECK_THAT(change(rod, SlipKind::transposed, "5.43"), WithinAbs(-0.09, 1e-12));
  CHECK_THAT(change(rod, SlipKind::transposed, "3.54"), WithinAbs(1.8, 1e-12));
  CHECK_THAT(change(rod, SlipKind::whole_unit, "6.34"), WithinAbs(-1, 1e-12));
  CHECK_THAT(change(rod, SlipKind::whole_unit, "4.34"), WithinAbs(1, 1e-12));
  CHECK_THAT(change(rod, SlipKind::half_foot, "5.84"), WithinAbs(-0.5, 1e-12));
  CHECK_THAT(change(rod, SlipKind::ten_units, "15.34"), WithinAbs(-10, 1e-12));
  CHECK(change(rod, SlipKind::ten_units, "-4.66") == 99); // no rod reads that
}

TEST_CASE("inches for tenths and tenths for inches", "[slips]") {
  CHECK_THAT(change({"4.6", foot, -1}, SlipKind::inches_as_tenths, "4' 6\""), WithinAbs(0.1, 1e-12));
  CHECK_THAT(change({"4.11", foot, -1}, SlipKind::inches_as_tenths, "4' 11\""),
             WithinAbs(4.11 - 4 - 11.0 / 12, 1e-12));
  CHECK_THAT(change({"4.06", foot, -1}, SlipKind::inches_as_tenths, "4' 6\""), WithinAbs(-0.44, 1e-12));
  CHECK_THAT(change({"4.63", foot, -1}, SlipKind::inches_as_tenths, "4' 6 3/8\""),
             WithinAbs(4.63 - 4 - 6.375 / 12, 1e-12));
  CHECK_THAT(change({"4' 6\"", foot, -1}, SlipKind::tenths_as_inches, "4.6"), WithinAbs(-0.1, 1e-12));
  CHECK_THAT(change({"4-6-4", foot, -1}, SlipKind::tenths_as_inches, "4.65"),
             WithinAbs(4 + 6.5 / 12 - 4.65, 1e-12));
  CHECK(change({"4' 11\"", foot, -1}, SlipKind::tenths_as_inches, "5.1") == 99); // there is no eleventh tenth
}

TEST_CASE("elevations rise with their number, metres slip by metres and decimetres", "[slips]") {
  CHECK_THAT(change({"98.42", foot, 1}, SlipKind::transposed, "98.24"), WithinAbs(-0.18, 1e-12));
  CHECK_THAT(change({"1.325", 1, -1}, SlipKind::whole_unit, "2.325"), WithinAbs(-1, 1e-12));
  CHECK_THAT(change({"1.325", 1, -1}, SlipKind::whole_unit, "1.425"), WithinAbs(-0.1, 1e-12));
  CHECK(change({"1.325", 1, -1}, SlipKind::ten_units, "11.325") == 99);
  CHECK(possible_slips({"", foot, -1}).empty());
  CHECK(possible_slips({"5.34", foot, 0}).empty());
  CHECK(possible_slips({"what", foot, -1}).empty());
}
