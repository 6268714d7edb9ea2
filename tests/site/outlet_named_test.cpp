#include "catch.hpp"

#include <lowspot/site/outlet_named.hpp>

using namespace lowspot;

TEST_CASE("an outlet by its name; what is none of the outlets is no outlet") {
  site::Design design;
  design.outlets.resize(2);
  design.outlets[0].name = "ditch";
  design.outlets[1].name = "curb";
  CHECK(site::outlet_named(design, "curb") == &design.outlets[1]);
  CHECK(site::outlet_named(design, "tee") == nullptr);
}
