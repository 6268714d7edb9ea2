#include "catch.hpp"

#include <lowspot/results/slug.hpp>

using namespace lowspot::results;

TEST_CASE("names become safe for variables") {
  CHECK(slug("as is") == "as_is");
  CHECK(slug("3 in + sod") == "d_3_in_sod");
  CHECK(slug("  Long -- Bed ") == "long_bed");
  CHECK(slug("\xc3\xa9/..") == "design");
  CHECK(slug(std::string(10000, 'x')).size() == 80);
  CHECK(slug("../../CON") == "con");
  CHECK(slugs({"A b", "a-b", "a b"}) == std::vector<std::string>{"a_b", "a_b_2", "a_b_3"});
  CHECK(slugs({"a", "a", "a 2"}) == std::vector<std::string>{"a", "a_2", "a_2_2"});
}
