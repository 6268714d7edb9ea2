#include <lowspot/site/read_standing.hpp>

#include "sample.hpp"

using namespace sample;

namespace {
const std::string drained = "[[design]]\nname = \"pipe\"\n"
                            "[[design.run]]\nname = \"leg\"\npath = [[10, 20], [30, 20]]\n"
                            "pipe = \"3 in corrugated, slotted\"\nto = \"tee\"\n"
                            "[[design.run]]\nname = \"carrier\"\npath = [[30, 20], [58, 4]]\n"
                            "pipe = \"3 in corrugated, solid\"\nfrom = \"tee\"\n"
                            "[[design.fitting]]\nname = \"tee\"\nat = [30, 20]\n";
const std::string swale = "[[design]]\nname = \"swale\"\n"
                          "[[design.regrade]]\nname = \"side\"\nkind = \"swale\"\n"
                          "path = [[5, 35, 100], [50, 35, 99.5]]\n";
} // namespace

TEST_CASE("a design that combines two has the works of both") {
  const auto site =
      read(yard(drained + swale + "[[design]]\nname = \"both\"\ncombine = [\"pipe\", \"swale\"]\n"));
  REQUIRE(site.designs.size() == 3);
  const auto& both = site.designs[2];
  CHECK(both.name == "both");
  CHECK(both.runs.size() == 2);
  CHECK(both.regrades.size() == 1);
  CHECK(both.made_of == std::vector<std::string>{"pipe", "swale"});
  CHECK(both.standing.empty());
}

TEST_CASE("a combination without a name is called by its parts") {
  const auto site = read(yard(drained + swale + "[[design]]\ncombine = [\"pipe\", \"swale\"]\n"));
  CHECK(site.designs.at(2).name == "pipe + swale");
}

TEST_CASE("a combination may have works of its own, joined to those it takes over") {
  const auto site = read(yard(drained + "[[design]]\nname = \"more\"\ncombine = [\"pipe\"]\n"
                                        "[[design.run]]\nname = \"north leg\"\npath = [[30, 36], [30, 20]]\n"
                                        "pipe = \"3 in corrugated, slotted\"\n"));
  const auto& more = site.designs.at(1);
  REQUIRE(more.runs.size() == 3);
  CHECK(more.runs[2].to == "tee");
  CHECK(more.runs[2].trench_depth == Approx(0.4572));
  CHECK(more.outlets.size() == 1);
}

TEST_CASE("a later stage is named by what comes before it, and builds on it") {
  const auto site = read(yard(drained +
                              "[[design]]\nname = \"north leg\"\nafter = \"pipe\"\n"
                              "[[design.run]]\nname = \"north\"\npath = [[30, 36], [30, 20]]\n"
                              "pipe = \"3 in corrugated, slotted\"\nto = \"tee\"\n" +
                              swale + "[[design]]\nafter = \"north leg\"\ncombine = [\"swale\"]\n"));
  REQUIRE(site.designs.size() == 4);
  CHECK(site.designs[1].name == "pipe, then north leg");
  CHECK(site.designs[1].runs.size() == 3);
  CHECK(site.designs[1].standing == std::vector<std::string>{"leg", "carrier", "tee", "carrier outlet"});
  CHECK(site.designs[3].name == "pipe, then north leg, then swale");
  CHECK(site.designs[3].runs.size() == 3);
  CHECK(site.designs[3].regrades.size() == 1);
  CHECK(site.designs[3].after == "pipe, then north leg");
  CHECK(site.designs[3].standing.size() == 5);
}

TEST_CASE("what cannot be combined is refused") {
  const auto unknown = error_of(yard(drained + "[[design]]\ncombine = [\"pipes\"]\n"));
  CHECK(unknown.where.key == "design[2].combine");
  CHECK_THAT(unknown.mend, ContainsSubstring("Did you mean \"pipe\""));
  CHECK_THAT(error_of(yard("[[design]]\nname = \"x\"\nafter = \"y\"\n" + drained)).expected,
             ContainsSubstring("above this one"));
  CHECK_THAT(error_of(yard(drained + "[[design]]\ncombine = [\"pipe\", \"pipe\"]\n")).found,
             ContainsSubstring("twice"));
  CHECK_THAT(error_of(yard(drained + "[[design]]\ncombine = \"pipe\"\n")).expected,
             ContainsSubstring("list"));
  const std::string wider = "[[design]]\nname = \"wider\"\n[[design.run]]\nname = \"leg\"\n"
                            "path = [[10, 20], [30, 20]]\npipe = \"4 in corrugated, slotted\"\n";
  const auto clash = error_of(yard(drained + wider + "[[design]]\ncombine = [\"pipe\", \"wider\"]\n"));
  CHECK(clash.where.key == "design[3].combine");
  CHECK_THAT(clash.found, ContainsSubstring("in the trench of run \"leg\""));
  const auto stage = error_of(yard(drained + swale +
                                   "[[design]]\nname = \"a\"\nafter = \"pipe\"\ncombine = "
                                   "[\"swale\"]\n[[design]]\ncombine = [\"a\"]\n"));
  CHECK_THAT(stage.mend, ContainsSubstring("after = \"a\""));
  CHECK_THAT(error_of(yard(drained + "[[design]]\nname = \"pipe, then b\"\n[[design]]\nname = \"b\"\nafter = "
                                     "\"pipe\"\n"))
                 .found,
             ContainsSubstring("a second design"));
}

TEST_CASE("a work of its own may not take the name of one it stands on") {
  const auto error = error_of(yard(drained + "[[design]]\nname = \"more\"\nafter = \"pipe\"\n"
                                             "[[design.fitting]]\nname = \"tee\"\nat = [10, 10]\n"));
  CHECK_THAT(error.found, ContainsSubstring("a second fitting"));
}
