#include <lowspot/base/error.hpp>

#include <utility>

#include <lowspot/base/utf8.hpp>

namespace lowspot {
namespace {
// What was found may be anything: a line of megabytes, or signs that would steer a terminal.
std::string shown(const std::string& given) {
  constexpr std::size_t longest = 300;
  const std::string words = as_utf8(std::string_view(given).substr(0, 4 * longest));
  std::string text = words.substr(0, longest);
  if (words.size() > longest) {
    while (!text.empty() && (static_cast<unsigned char>(text.back()) & 0xC0) == 0x80) text.pop_back();
    if (!text.empty() && (static_cast<unsigned char>(text.back()) & 0x80) != 0) text.pop_back();
    text += "...";
  }
  for (std::size_t k = 0; k < text.size(); ++k) {
    const auto sign = static_cast<unsigned char>(text[k]);
    if (sign < ' ' || sign == 0x7F) text[k] = ' ';
    // The same commands once more, as two bytes of UTF-8.
    const auto next = k + 1 < text.size() ? static_cast<unsigned char>(text[k + 1]) : 0;
    if (sign == 0xC2 && next >= 0x80 && next < 0xA0) text[k] = text[k + 1] = ' ';
  }
  return text;
}

std::string sentence(const Where& where, const std::string& found, const std::string& expected,
                     const std::string& mend) {
  std::string text = shown(where.file);
  if (where.line > 0) text += ":" + std::to_string(where.line);
  if (!where.key.empty()) text += (text.empty() ? "" : ": ") + shown(where.key);
  if (!text.empty()) text += ": ";
  text += "found " + shown(found);
  if (!expected.empty()) text += ", expected " + expected;
  text += ".";
  if (!mend.empty()) text += "\n  To mend it: " + mend;
  return text;
}
} // namespace

InputError::InputError(Where where_, std::string found_, std::string expected_, std::string mend_)
    : std::runtime_error(sentence(where_, found_, expected_, mend_)), where(std::move(where_)),
      found(std::move(found_)), expected(std::move(expected_)), mend(std::move(mend_)) {}

} // namespace lowspot
