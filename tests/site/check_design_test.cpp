#include <lowspot/site/connect_design.hpp>

#include "sample.hpp"

using namespace sample;

namespace {
const std::string design = "[[design]]\nname = \"d\"\n";
std::string leg(const std::string& more) {
  return "[[design.run]]\nname = \"leg\"\npath = [[10, 20], [30, 20]]\npipe = \"3 in corrugated, "
         "slotted\"\n" +
         more;
}
std::string carrier(const std::string& more) {
  return "[[design.run]]\nname = \"carrier\"\npath = [[30, 20], [60, 10]]\npipe = \"3 in corrugated, "
         "solid\"\n" +
         more;
}
const std::string tee = "[[design.fitting]]\nname = \"tee\"\nat = [30, 20]\n";
} // namespace

TEST_CASE("names that do not exist are answered with the nearest") {
  const auto to = error_of(yard(design + leg("to = \"te\"\n") + carrier("from = \"tee\"\n") + tee));
  CHECK(to.where.key == "design[1].run[1].to");
  CHECK_THAT(to.mend, ContainsSubstring("\"tee\""));
  CHECK_THAT(error_of(yard(design + leg("to = \"tee\"\n") + carrier("from = \"tea\"\n") + tee)).mend,
             ContainsSubstring("\"tee\""));
  CHECK_THAT(error_of(yard(design + leg("to = \"carrier\"\n") + carrier(""))).mend,
             ContainsSubstring("[[design.fitting]]"));
}

TEST_CASE("ends that do not meet what they are joined to") {
  const auto error = error_of(yard(design + leg("to = \"tee\"\n") + carrier("from = \"tee\"\n") +
                                   "[[design.fitting]]\nname = \"tee\"\nat = [30, 25]\n"));
  CHECK_THAT(error.found, ContainsSubstring("5 ft from this end"));
}

TEST_CASE("a fitting leads on by one run or more") {
  CHECK_THAT(error_of(yard(design + leg("to = \"tee\"\n") + tee)).found,
             ContainsSubstring("no run leading on"));
  const std::string second = "[[design.run]]\nname = \"other\"\npath = [[30, 20], [60, 30]]\npipe = \"3 in "
                             "corrugated, solid\"\nfrom = \"tee\"\n";
  const site::Site split =
      read(yard(design + leg("to = \"tee\"\n") + carrier("from = \"tee\"\n") + second + tee));
  CHECK(split.designs.at(0).outlets.size() == 2);
}

TEST_CASE("water does not run uphill from one part to the next") {
  const std::string outlet = "[[design.outlet]]\nname = \"out\"\nat = [60, 10]\ninvert = ";
  const std::string runs = leg("to = \"tee\"\ninverts = [98.4, 98.2]\n") + tee;
  CHECK_THAT(error_of(yard(design + runs + carrier("from = \"tee\"\nto = \"out\"\ninverts = [98.2, 97.9]\n") +
                           outlet + "98.1\n"))
                 .found,
             ContainsSubstring("0.2 ft above the pipe that feeds it"));
  CHECK_THAT(error_of(yard(design + runs + carrier("from = \"tee\"\ninverts = [98.3, 97.9]\n"))).found,
             ContainsSubstring("0.1 ft above the foot"));
  const auto good = read(yard(
      design + runs + carrier("from = \"tee\"\nto = \"out\"\ninverts = [98.2, 97.9]\n") + outlet + "97.9\n"));
  CHECK(good.designs.at(0).outlets.at(0).invert == Approx(97.9 * 0.3048));
}

TEST_CASE("an outlet that nothing feeds is warned of") {
  CHECK(warned(read(yard(design + leg("") + "[[design.outlet]]\nname = \"spare\"\nat = [60, 10]\n")),
               "nothing will leave"));
}

TEST_CASE("a channel ends at what takes its water") {
  const auto channel = [](const std::string& path, const std::string& to) {
    return "[[design.channel]]\nname = \"gutter\"\npath = " + path + "\nto = \"" + to + "\"\n";
  };
  const std::string pit = "[[design.drywell]]\nname = \"pit\"\nat = [50, 35]\ndiameter = \"4 ft\"\n";
  const auto backwards = error_of(yard(design + leg("") + channel("[[10, 21], [10, 39]]", "leg")));
  CHECK(backwards.where.key == "design[1].channel[1].path");
  CHECK_THAT(backwards.found, ContainsSubstring("[10, 39] lies 19 ft from \"leg\""));
  CHECK_THAT(backwards.mend, ContainsSubstring("drawn backwards"));
  const auto astray = error_of(yard(design + leg("") + pit + channel("[[10, 30], [40, 30]]", "pit")));
  CHECK_THAT(astray.mend, ContainsSubstring("Let the path end there"));
  CHECK_NOTHROW(read(yard(design + leg("") + channel("[[10, 39], [10, 21]]", "leg"))));
  CHECK_NOTHROW(read(yard(design + leg("") + pit + channel("[[10, 35], [44, 35]]", "pit"))));
}

TEST_CASE("an inlet stands at what takes its water: no pipe of any length is laid from it") {
  const auto inlet = [](const std::string& at, const std::string& to) {
    return "[[design.inlet]]\nname = \"box\"\nat = " + at + "\nto = \"" + to + "\"\n";
  };
  // Beyond the foot of its run, which ends at 30.
  const auto far = [](const site::Site& site) {
    return std::count_if(site.warnings.begin(), site.warnings.end(), [](const std::string& warning) {
      return warning.find("neither in the cut sheet nor ordered") != std::string::npos;
    });
  };
  const site::Site beyond = read(yard(design + leg("") + inlet("[36, 20]", "leg")));
  CHECK(far(beyond) == 1);
  CHECK(std::any_of(beyond.warnings.begin(), beyond.warnings.end(), [](const std::string& warning) {
    return warning.find("design[1].inlet[1].at") != std::string::npos &&
           warning.find("6 ft from \"leg\"") != std::string::npos;
  }));
  const std::string pit =
      "[[design.drywell]]\nname = \"pit\"\nat = [50, 35]\ndiameter = \"3 ft\"\ndepth = \"4 ft\"\n";
  CHECK(far(read(yard(design + leg("") + pit + inlet("[40, 35]", "pit")))) == 1);
  CHECK(far(read(yard(design + leg("") + inlet("[34, 20]", "leg")))) == 0);
  CHECK(far(read(yard(design + leg("") + pit + inlet("[44, 35]", "pit")))) == 0);
}

TEST_CASE("stone under paving is said to drink there") {
  const std::string patio = "[[area]]\nname = \"patio\"\nkind = \"concrete\"\nrectangle = [12, 15, 8, 10]\n";
  CHECK(
      warned(read(yard(patio + design + leg(""))), "design[1].run[1].path: passes under \"patio\" for 8.0"));
  CHECK_FALSE(warned(read(yard(patio + design + leg("") +
                               "[[area]]\nname = \"bed\"\nkind = \"mulched "
                               "bed\"\nrectangle = [12, 15, 8, 10]\n")),
                     "cut open"));
  const std::string solid =
      "[[design.run]]\npath = [[10, 20], [30, 20]]\npipe = \"3 in corrugated, solid\"\n";
  CHECK_FALSE(warned(read(yard(patio + design + solid)), "cut open"));
}
