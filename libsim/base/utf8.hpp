// Whether bytes are text in UTF-8, and what is made of those that are not.
#pragma once
#include <string>
#include <string_view>

namespace lowspot {

// Where the first byte stands that is no UTF-8 (RFC 3629: neither overlong nor a surrogate); npos where all
// is.
std::size_t first_not_utf8(std::string_view text);
// With each byte that is no UTF-8 turned into U+FFFD.
std::string as_utf8(std::string_view text);

} // namespace lowspot
