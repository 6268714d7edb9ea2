#include <lowspot/drain/layout.hpp>

#include "catch.hpp"
#include "layouts.hpp"

using namespace lowspot::drain;
using namespace lowspot::drain::testing;

namespace {

std::string all(const Layout& layout) {
  std::string text;
  for (const std::string& sentence : problems(layout)) text += sentence + "\n";
  return text;
}

} // namespace

TEST_CASE("a sound layout has no problems") {
  CHECK(all(trench_and_carrier()).empty());
}

TEST_CASE("pipe that falls the wrong way is refused, but computed as built") {
  Layout layout = trench_and_carrier();
  layout.runs[1].inverts = {99.4, 99.45};
  CHECK_THAT(all(layout), ContainsSubstring("\"carrier\" falls the wrong way"));
  layout.as_built = true;
  CHECK(all(layout).empty());
}

TEST_CASE("unknown names and dead ends are named") {
  Layout layout = trench_and_carrier();
  layout.runs[0].to = "tea";
  CHECK_THAT(all(layout), ContainsSubstring("goes to \"tea\""));
  layout = trench_and_carrier();
  layout.runs.pop_back();
  CHECK_THAT(all(layout), ContainsSubstring("fitting \"tee\" leads nowhere"));
  CHECK_THAT(all(layout), ContainsSubstring("outlet \"end\" has no run"));
  layout = trench_and_carrier();
  layout.runs[1].to.clear();
  layout.outlets.clear();
  CHECK_THAT(all(layout), ContainsSubstring("\"carrier\" leads nowhere"));
}

TEST_CASE("a loop is found") {
  Layout layout = trench_and_carrier();
  layout.fittings.push_back({"corner", {15, 0}});
  layout.runs[1].to = "corner";
  Run back = solid_run("back", 15, 10, 99.2, 99.2);
  back.from = "corner";
  back.to = "tee";
  Run out = solid_run("out", 15, 20, 99.2, 99.1);
  out.from = "corner";
  out.to = "end";
  layout.runs.push_back(out);
  CHECK(all(layout).empty());
  layout.runs.push_back(back);
  CHECK_THAT(all(layout), ContainsSubstring("closes a loop"));
}

TEST_CASE("an outlet above its pipe and a step up at a fitting are refused") {
  Layout layout = trench_and_carrier();
  layout.outlets[0].invert = 99.3;
  CHECK_THAT(all(layout), ContainsSubstring("outlet \"end\" lies 100 mm above"));
  layout = trench_and_carrier();
  layout.runs[1].inverts[0] = 99.45;
  CHECK_THAT(all(layout), ContainsSubstring("begins 50 mm above the foot of run \"leg\""));
}

TEST_CASE("figures that cannot be are refused") {
  Layout layout = trench_and_carrier();
  layout.runs[0].stone.porosity = 0;
  CHECK_THAT(all(layout), ContainsSubstring("porosity"));
  layout = trench_and_carrier();
  layout.runs[1].inverts.push_back(99);
  CHECK_THAT(all(layout), ContainsSubstring("3 inverts for 2 points"));
  layout = trench_and_carrier();
  layout.runs[0].pipe.diameter = 0; // water in its stone could not go on into a solid carrier
  CHECK_THAT(all(layout), ContainsSubstring("leads to no stone or outlet"));
}
