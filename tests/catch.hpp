// One include for both generations of Catch2 (2.13 on Debian 12, 3.x later).
#pragma once
#if __has_include(<catch2/catch_all.hpp>)
#include <catch2/catch_all.hpp>
using Catch::Approx;
using Catch::Matchers::ContainsSubstring;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
#else
#include <catch2/catch.hpp>
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
inline auto ContainsSubstring(const std::string& text) {
  return Catch::Matchers::Contains(text);
}
#endif
