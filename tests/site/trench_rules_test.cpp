#include "catch.hpp"

#include <lowspot/site/trench_rules.hpp>

using namespace lowspot;

TEST_CASE("depths that endanger: the law's where the site has no limits, else those of the limits") {
  site::Site site;
  CHECK(site::protected_from(site).depth == Approx(5 * 0.3048));
  CHECK(site::protected_from(site).written == "5 ft");
  site.units = "m";
  CHECK(site::way_out_from(site).written == "1.2 m (4 ft)");
  catalog::PracticeLimit town;
  town.name = "trench_depth";
  town.value = 1.2, town.written = "1.2 m", town.from.mark = "town";
  site.limits = {town};
  CHECK(site::protected_from(site).depth == 1.2);
  CHECK(site::protected_from(site).written == "1.2 m");
  CHECK(site::way_out_from(site).depth == Approx(4 * 0.3048)); // not in the list
  site.limits[0].from.mark = "V", site.limits[0].value = 5 * 0.3048, site.limits[0].written = "5 ft";
  CHECK(site::protected_from(site).written == "1.5 m (5 ft)");
  site.limits[0].value = site::not_given; // "ask"
  CHECK(site::protected_from(site).depth == Approx(5 * 0.3048));
  CHECK(site::limit_named(site, "trench_depth") == &site.limits[0]);
  CHECK(site::limit_named(site, "no such") == nullptr);
}
