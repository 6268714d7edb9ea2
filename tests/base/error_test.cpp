#include "catch.hpp"

#include <lowspot/base/error.hpp>

using namespace lowspot;

TEST_CASE("An input error says where, what and how to mend it") {
  const InputError error({"site.toml", 12, "storm.depth"}, "\"3\"", "a length such as \"6 in\"",
                         "add the unit");
  CHECK(std::string(error.what()) == "site.toml:12: storm.depth: found \"3\", expected a length such as \"6 "
                                     "in\".\n  To mend it: add the unit");
  CHECK(error.where.line == 12);
  CHECK(error.mend == "add the unit");
}

TEST_CASE("Parts that are not known are left out of the sentence") {
  CHECK(std::string(InputError({"", 0, ""}, "nothing", "", "").what()) == "found nothing.");
  CHECK(std::string(InputError({"a.csv", 0, ""}, "x", "y", "").what()) == "a.csv: found x, expected y.");
  CHECK(std::string(InputError({"", 0, "key"}, "x", "y", "").what()) == "key: found x, expected y.");
}

TEST_CASE("What was found cannot steer a terminal nor fill it") {
  CHECK(std::string(InputError({"a\x1b.csv", 0, "k\x07"}, "x\x1b[2J\r\n\xc2\x9b", "y", "").what()) ==
        "a .csv: k : found x [2J    , expected y.");
  const std::string long_one = InputError({"a.csv", 0, ""}, std::string(1 << 20, 'x'), "y", "").what();
  CHECK(long_one.size() < 400);
  CHECK_THAT(long_one, ContainsSubstring("xxx..., expected y"));
  // A letter of several bytes is not cut in two.
  const std::string cut = InputError({"", 0, ""}, std::string(299, 'x') + "\xc3\xa9" + "xx", "", "").what();
  CHECK_THAT(cut, ContainsSubstring("xx...") && !ContainsSubstring("\xc3"));
}
