#include "catch.hpp"

#include <lowspot/report/page_script.hpp>

TEST_CASE("the script asks for nothing from outside and cannot end its element") {
  const std::string script(lowspot::report::page_script());
  for (const char* word : {"http", "fetch(", "import", "</", "eval(", "innerHTML"})
    CHECK(script.find(word) == std::string::npos);
  CHECK_THAT(script, ContainsSubstring("DecompressionStream") && ContainsSubstring("aria-valuetext"));
}
