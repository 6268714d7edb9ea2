#include <lowspot/drain/connections.hpp>

#include "catch.hpp"
#include "layouts.hpp"

using namespace lowspot::drain;
using namespace lowspot::drain::testing;

TEST_CASE("names join runs to fittings and outlets") {
  const Connections joined = connect(trench_and_carrier());
  CHECK(joined.places == 2);
  CHECK(joined.runs[0].head == no_place);
  CHECK(joined.runs[0].foot == 0);
  CHECK(joined.runs[1].head == 0);
  CHECK(joined.runs[1].foot == 1);
}

TEST_CASE("a foot without a name joins what it touches") {
  Layout layout = trench_and_carrier();
  layout.runs[0].to.clear();
  layout.runs[1].from.clear();
  CHECK(connect(layout).runs[0].foot == 0); // the fitting is there
  layout.fittings.clear();
  const Connections joined = connect(layout);
  CHECK(joined.runs[0].foot == 1); // a new place after the one outlet
  CHECK(joined.runs[1].head == 1);
  CHECK(joined.places == 2);
  layout.runs[1].path[0].x += 1;
  CHECK(connect(layout).runs[0].foot == no_place);
}

TEST_CASE("a name nobody has is told from a free end") {
  Layout layout = trench_and_carrier();
  layout.runs[0].to = "nowhere";
  CHECK(connect(layout).runs[0].foot == unknown_place);
}
