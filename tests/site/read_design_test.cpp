#include <lowspot/site/readers.hpp>

#include "sample.hpp"

using namespace sample;

namespace {
const std::string leg =
    "[[design.run]]\nname = \"leg\"\npath = [[10, 20], [60, 20]]\npipe = \"3 in corrugated, slotted\"\n";
const std::string design = "[[design]]\nname = \"d\"\n";
std::string outlet(const std::string& more) {
  return "[[design.outlet]]\nname = \"out\"\nat = [60, 20]\n" + more;
}
const std::string house = "[[building]]\nname = \"house\"\nrectangle = [10, 30, 30, 10]\ndownspouts = [ { at "
                          "= [9, 29], to = \"ground\" } ]\n";
} // namespace

TEST_CASE("outlets of each kind") {
  const auto kind = [](const std::string& more) {
    return read(yard(design + leg + outlet(more))).designs.at(0).outlets.at(0);
  };
  CHECK(kind("").kind == "daylight");
  CHECK(kind("kind = \"pop-up\"\n").opening_head == Approx(0.0254));
  CHECK(kind("kind = \"pop-up\"\nopening_head = \"2 in\"\n").opening_head == Approx(0.0508));
  CHECK(kind("kind = \"submerged\"\nlevel = 98.5\ninvert = 98\n").level == Approx(98.5 * 0.3048));
  CHECK_THAT(error_of(yard(design + leg + outlet("kind = \"submerged\"\n"))).where.key,
             ContainsSubstring("level"));
  CHECK_THAT(error_of(yard(design + leg + outlet("kind = \"day light\"\n"))).mend,
             ContainsSubstring("\"daylight\""));
  CHECK(warned(read(yard(design + leg + outlet("level = 98\n"))), "submerged"));
  CHECK(warned(read(yard(design + leg + outlet("opening_head = \"1 in\"\n"))), "pop-up"));
}

TEST_CASE("names in a design are told apart") {
  CHECK_THAT(error_of(yard(design + leg + leg)).found,
             ContainsSubstring("second run of this design called \"leg\""));
  CHECK_THAT(error_of(yard(design + leg + design)).found, ContainsSubstring("second design called \"d\""));
  CHECK_THAT(error_of(yard("[[design]]\nname = \"As is\"\n")).mend, ContainsSubstring("always runs"));
  CHECK_THAT(
      error_of(yard(design + leg + outlet("") + "[[design.fitting]]\nname = \"out\"\nat = [10, 20]\n")).found,
      ContainsSubstring("called \"out\""));
  CHECK(read(yard(design + leg + "[[design]]\nname = \"e\"\n" + leg)).designs.size() == 2);
}

TEST_CASE("fittings and outlets lie inside the yard, an outlet may lie on its limit") {
  CHECK_THAT(error_of(yard(design + leg + "[[design.outlet]]\nname = \"out\"\nat = [61, 20]\n")).found,
             ContainsSubstring("outside the yard"));
  CHECK_THAT(error_of(yard(design + leg + "[[design.fitting]]\nname = \"tee\"\nat = [10, 41]\n")).found,
             ContainsSubstring("outside the yard"));
  CHECK(read(yard(design + leg + outlet(""))).warnings.empty());
}

TEST_CASE("a downspout is sent elsewhere, by name or by place") {
  const auto by_name =
      read(yard(house + design + leg + "[[design.downspout]]\nname = \"house downspout 1\"\nto = \"leg\"\n"));
  CHECK(by_name.designs.at(0).downspouts.at(0).to == "leg");
  const auto by_place =
      read(yard(house + design + leg + "[[design.downspout]]\nat = [9, 29]\nto = \"leg\"\n"));
  CHECK(by_place.designs.at(0).downspouts.at(0).downspout == "house downspout 1");
  CHECK_THAT(error_of(yard(house + design + leg +
                           "[[design.downspout]]\nname = \"house downspout 2\"\nto = \"leg\"\n"))
                 .mend,
             ContainsSubstring("house downspout 1"));
  CHECK_THAT(error_of(yard(house + design + leg + "[[design.downspout]]\nat = [9, 29]\nto = \"lge\"\n")).mend,
             ContainsSubstring("\"leg\""));
  CHECK_THAT(
      error_of(yard(house + design + leg + "[[design.downspout]]\nat = [20, 20]\nto = \"leg\"\n")).found,
      ContainsSubstring("no downspout stands"));
}

TEST_CASE("a downspout of the yard may name a run that a design has") {
  const std::string tied = "[[building]]\nname = \"house\"\nrectangle = [10, 30, 30, 10]\ndownspouts = [ { "
                           "at = [9, 29], to = \"leg\" } ]\n";
  const auto site = read(yard(tied + design + leg));
  CHECK(site.buildings.at(0).downspouts.at(0).to == "leg");
  CHECK_THAT(assumed(site, "building[1].downspouts[1].to"), ContainsSubstring("ground, as is"));
  CHECK_THAT(error_of(yard(tied)).where.key, ContainsSubstring("building[1].downspouts[1].to"));
}

TEST_CASE("works on the ground have a name each") {
  const std::string shape = "kind = \"berm\"\npath = [[5, 5, 100], [20, 5, 100]]\n";
  CHECK_THAT(error_of(yard(design + "[[design.regrade]]\nname = \"side\"\n" + shape +
                           "[[design.regrade]]\nname = \"side\"\n" + shape))
                 .found,
             ContainsSubstring("a second regrading of this design called \"side\""));
  const std::string patch = "name = \"patch\"\nrectangle = [5, 5, 10, 10]\n";
  const std::string amend = "[[design.amend]]\n" + patch + "conductivity_factor = 3\n";
  CHECK_THAT(error_of(yard(design + amend + amend)).found, ContainsSubstring("a second amended soil"));
  const std::string basin = "[[design.basin]]\n" + patch;
  CHECK_THAT(error_of(yard(design + basin + basin)).found, ContainsSubstring("a second basin"));
  const std::string well = "[[design.drywell]]\nname = \"well\"\nat = [5, 5]\ndiameter = \"2 ft\"\ndepth = "
                           "\"3 ft\"\n";
  CHECK_THAT(error_of(yard(design + well + well)).found, ContainsSubstring("a second outlet"));
  const std::string inlet = "[[design.inlet]]\nname = \"grate\"\nat = [8, 8]\nto = \"well\"\n";
  CHECK_THAT(error_of(yard(design + well + inlet + inlet)).found, ContainsSubstring("a second inlet"));
  // Earthworks are named by nothing else: a swale may be called as a run is.
  CHECK_NOTHROW(read(yard(design + leg + "[[design.regrade]]\nname = \"leg\"\n" + shape)));
}
