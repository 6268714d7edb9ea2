#include "catch.hpp"

#include <lowspot/report/foot_words.hpp>

using namespace lowspot;

TEST_CASE("the foot of a drain is called what it is, and an outlet where there are several kinds") {
  site::Design design;
  CHECK(report::foot_words(design) == "the outlet");
  CHECK_FALSE(report::all_end_in(design, "dry well"));
  site::Outlet well, free;
  well.kind = "dry well", free.kind = "daylight";
  design.outlets = {well, well};
  CHECK(report::foot_words(design) == "the dry well");
  CHECK(report::all_end_in(design, "dry well"));
  design.outlets.push_back(free);
  CHECK(report::foot_words(design) == "the outlet");
  CHECK(report::foot_name(well) == "dry well");
  CHECK(report::foot_name(free) == "outlet");
  well.kind = "pump";
  design.outlets = {well};
  CHECK(report::foot_words(design) == "the pump pit");
}
