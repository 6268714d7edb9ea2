#include <lowspot/base/utf8.hpp>

namespace lowspot {
namespace {

// Bytes of the character that begins the text, 0 where it is none.
std::size_t character_length(std::string_view text) {
  const auto byte = [&](std::size_t k) { return k < text.size() ? static_cast<unsigned char>(text[k]) : 0u; };
  const unsigned first = byte(0);
  if (first < 0x80) return 1;
  const std::size_t length = first < 0xC2 ? 0 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : first < 0xF5 ? 4 : 0;
  // The second byte leaves out what a shorter form says, surrogates, and what lies beyond the last character.
  const unsigned least = first == 0xE0 ? 0xA0 : first == 0xF0 ? 0x90 : 0x80;
  const unsigned most = first == 0xED ? 0x9F : first == 0xF4 ? 0x8F : 0xBF;
  if (length == 0 || byte(1) < least || byte(1) > most) return 0;
  for (std::size_t k = 2; k < length; ++k)
    if ((byte(k) & 0xC0) != 0x80) return 0;
  return length;
}

} // namespace

std::size_t first_not_utf8(std::string_view text) {
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t length = character_length(text.substr(at));
    if (length == 0) return at;
    at += length;
  }
  return std::string_view::npos;
}

std::string as_utf8(std::string_view text) {
  std::string result;
  for (std::size_t at = first_not_utf8(text); at != std::string_view::npos; at = first_not_utf8(text)) {
    result.append(text.substr(0, at)).append("\uFFFD");
    text.remove_prefix(at + 1);
  }
  return result.append(text);
}

} // namespace lowspot
