#include "catch.hpp"

#include <lowspot/report/swipe_script.hpp>

#include "report/picture.hpp"

TEST_CASE("the script writes names as text and fetches nothing") {
  const std::string script(lowspot::report::swipe_script());
  CHECK_THAT(script, ContainsSubstring("textContent"));
  for (const char* word : {"innerHTML", "fetch(", "http", "eval(", "</"})
    CHECK(script.find(word) == std::string::npos);
}
