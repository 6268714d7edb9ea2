#include <lowspot/site/read_intake.hpp>

#include "sample.hpp"

using namespace sample;

namespace {
const std::string head = "[[design]]\nname = \"d\"\n[[design.run]]\nname = \"leg\"\npath = [[10, 20], [60, "
                         "20]]\npipe = \"3 in corrugated, slotted\"\n";
const std::string grate = "[[design.inlet]]\nname = \"grate\"\nat = [20, 22]\n";
} // namespace

TEST_CASE("an inlet is a grate over a box that leads on") {
  const site::Inlet inlet =
      read(yard(head + grate + "size = \"9 in\"\ndebris = 0.3\nsump = \"6 in\"\nto = \"leg\"\n"))
          .designs.at(0)
          .inlets.at(0);
  CHECK(inlet.grate.width == Approx(9 * 0.0254));
  CHECK(inlet.grate.length == Approx(9 * 0.0254));
  CHECK(inlet.grate.debris == 0.3);
  CHECK(inlet.grate.open_share == 0.5);
  CHECK(inlet.sump == Approx(6 * 0.0254));
  CHECK(inlet.to == "leg");
  CHECK_THAT(error_of(yard(head + grate)).found, ContainsSubstring("without a way on"));
  CHECK_THAT(error_of(yard(head + grate + "to = \"lag\"\n")).mend, ContainsSubstring("\"leg\""));
  CHECK_THAT(error_of(yard(head + grate + "to = \"grate\"\n")).found, ContainsSubstring("itself"));
  CHECK_THAT(error_of(yard(head + grate + "to = \"leg\"\ndepth = \"2 in\"\n")).expected,
             ContainsSubstring("room for the pipe"));
}

TEST_CASE("a run may begin at an inlet") {
  const std::string carrier =
      "[[design.run]]\nname = \"carrier\"\npath = [[20, 22], [60, 30]]\npipe = \"3 in "
      "corrugated, solid\"\nfrom = \"grate\"\n";
  const site::Design design = read(yard(head + carrier + grate)).designs.at(0);
  CHECK(design.runs.at(1).from == "grate");
  CHECK(design.inlets.at(0).to.empty());
}

TEST_CASE("a channel says what a level trough of its size carries") {
  const site::Site site =
      read(yard(head + "[[design.channel]]\nname = \"gutter\"\npath = [[10, 25], [20, 25]]\nwidth = \"5 "
                       "in\"\ndepth = \"4 in\"\nto = \"leg\"\n"));
  const site::Channel& channel = site.designs.at(0).channels.at(0);
  CHECK_THAT(channel.capacity, WithinRel(site::level_gutter_capacity(5 * 0.0254, 4 * 0.0254), 1e-12));
  // y0 = sqrt(3) yc and q = sqrt(g yc3): momentum of the two ends agrees, y0^2/2 = yc^2/2 + q^2/(g yc).
  const double y0 = 4 * 0.0254, q = channel.capacity / (5 * 0.0254), yc = std::cbrt(q * q / 9.81);
  CHECK_THAT(y0 * y0 / 2, WithinRel(yc * yc / 2 + q * q / (9.81 * yc), 1e-12));
  CHECK(error_of(yard(head + "[[design.channel]]\npath = [[10, 25], [20, 25]]\n")).where.key.ends_with("to"));
}

TEST_CASE("a fitting may have a cleanout and a loss of its own") {
  const std::string tee =
      "[[design.fitting]]\nname = \"tee\"\nat = [30, 20]\ncleanout = \"4 in\"\nloss = 0.4\n";
  const std::string legs = "[[design]]\nname = \"d\"\n[[design.run]]\nname = \"a\"\npath = [[10, 20], [30, "
                           "20]]\npipe = \"3 in corrugated, slotted\"\nto = \"tee\"\n[[design.run]]\nname = "
                           "\"b\"\npath = [[30, 20], [60, 20]]\npipe = \"3 in corrugated, solid\"\nfrom = "
                           "\"tee\"\n";
  const site::Fitting fitting = read(yard(legs + tee)).designs.at(0).fittings.at(0);
  CHECK(fitting.cleanout == Approx(4 * 0.0254));
  CHECK(fitting.lift == Approx(2 * 0.0254));
  CHECK(fitting.loss == 0.4);
}
