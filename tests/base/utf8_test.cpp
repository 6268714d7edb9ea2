#include <lowspot/base/utf8.hpp>

#include "catch.hpp"

using namespace lowspot;

namespace {
constexpr std::size_t all_of_it = std::string_view::npos;

// A code point written out in a given number of bytes, fitting or not (RFC 3629, section 3).
std::string in_bytes(unsigned point, int count) {
  if (count == 1) return {static_cast<char>(point)};
  std::string text;
  for (int k = 1; k < count; ++k, point >>= 6)
    text.insert(text.begin(), static_cast<char>(0x80 | (point & 0x3F)));
  return static_cast<char>((0xF00 >> count & 0xFF) | point) + text;
}
} // namespace

TEST_CASE(
    "every character in its shortest form is UTF-8, in a longer form none is, and surrogates are none") {
  for (unsigned point = 0; point < 0x110800; ++point) {
    const int shortest = point < 0x80 ? 1 : point < 0x800 ? 2 : point < 0x10000 ? 3 : 4;
    const bool is_one = point < 0x110000 && (point < 0xD800 || point >= 0xE000);
    if ((first_not_utf8(in_bytes(point, shortest)) == all_of_it) != is_one) FAIL(std::hex << point);
    for (int count = shortest + 1; count <= 4; ++count)
      if (first_not_utf8(in_bytes(point, count)) != 0) FAIL("longer " << std::hex << point);
    // Cut short it is none either.
    if (shortest > 1 &&
        first_not_utf8("a" + in_bytes(point, shortest).substr(0, static_cast<std::size_t>(shortest) - 1)) !=
            1)
      FAIL("cut " << std::hex << point);
  }
  for (unsigned byte = 0x80; byte < 0x100; ++byte)
    CHECK(first_not_utf8(std::string(1, static_cast<char>(byte))) == 0);
}

TEST_CASE("the first byte that is no UTF-8 is found, and each such byte is replaced") {
  CHECK(first_not_utf8("") == all_of_it);
  CHECK(first_not_utf8("caf\xc3\xa9 \xe2\x82\xac") == all_of_it);
  CHECK(first_not_utf8("caf\xe9 yard") == 3);
  CHECK(as_utf8("caf\xe9 \xff\xfe yard") == "caf\uFFFD \uFFFD\uFFFD yard");
  CHECK(as_utf8("caf\xc3\xa9") == "caf\xc3\xa9");
  CHECK(first_not_utf8(as_utf8("\xe2\x82")) == all_of_it);
}
