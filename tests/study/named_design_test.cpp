#include "catch.hpp"

#include <lowspot/base/error.hpp>
#include <lowspot/study/compare.hpp>
#include <lowspot/study/named_design.hpp>

using namespace lowspot;

namespace {
site::Site two_designs() {
  site::Site site;
  site.file = "site.toml";
  site.designs.resize(2);
  site.designs[0].name = "shallow";
  site.designs[1].name = "shallow, then swale";
  site.designs[1].own_name = "swale";
  return site;
}
} // namespace

TEST_CASE("a design by its name, by a stage's own, and the only one without any") {
  site::Site site = two_designs();
  CHECK(study::named_design(site, "shallow").name == "shallow");
  CHECK(study::named_design(site, "swale").name == "shallow, then swale");
  CHECK_THROWS_WITH(study::named_design(site, ""),
                    ContainsSubstring("no name") &&
                        ContainsSubstring("\"shallow\", \"shallow, then swale\""));
  site.designs.pop_back();
  CHECK(study::named_design(site, "").name == "shallow");
  site.designs.clear();
  CHECK_THROWS_WITH(study::named_design(site, ""), ContainsSubstring("add a [[design]]"));
}

TEST_CASE("a wrong name is answered with the names that there are, whatever was asked") {
  const site::Site site = two_designs();
  const std::string names = "\"shallow\", \"shallow, then swale\"", near = "did you mean \"shallow\"?";
  CHECK_THROWS_WITH(study::named_design(site, "shalow"), ContainsSubstring(names) && ContainsSubstring(near));
  CHECK_THROWS_WITH(study::chosen_designs(site, {"shallow", "shalow"}),
                    ContainsSubstring(names) && ContainsSubstring(near));
  CHECK(study::chosen_designs(site, {"swale"}).size() == 2);
  CHECK(study::chosen_designs(site, {"swale", "shallow, then swale"}).size() == 2);
  CHECK(study::chosen_designs(site, {}).size() == 3);
}
