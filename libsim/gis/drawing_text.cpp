#include <lowspot/gis/drawing_text.hpp>

#include <algorithm>
#include <cctype>
#include <fstream>
#include <iterator>
#include <string>
#include <string_view>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>

namespace lowspot::gis {
namespace {

// Takes the first line off, whatever system ended it.
std::string take_line(std::string_view& text) {
  const std::size_t end = std::min(text.find_first_of("\r\n"), text.size());
  const std::string line = trim(text.substr(0, end));
  const bool two = text.substr(end, 2) == "\r\n";
  text.remove_prefix(std::min(text.size(), end + (two ? 2 : 1)));
  return line;
}

bool is_group_code(const std::string& text) {
  const bool negative = text.starts_with('-');
  return text.size() > (negative ? 1u : 0u) && text.size() < 8 &&
         std::all_of(text.begin() + (negative ? 1 : 0), text.end(),
                     [](unsigned char sign) { return std::isdigit(sign) != 0; });
}

} // namespace

void check_drawing_text(const std::filesystem::path& file) {
  std::ifstream stream(file, std::ios::binary);
  const std::string content{std::istreambuf_iterator<char>(stream), {}};
  const auto fail = [&](int line, const std::string& found, const std::string& expected) {
    return InputError({file.string(), line, ""}, found, expected,
                      "save the drawing anew, as DXF in its text (ASCII) form.");
  };
  if (!stream) throw fail(0, "a file that cannot be read", "a drawing");
  std::string_view rest = content;
  if (rest.starts_with("\xEF\xBB\xBF")) rest.remove_prefix(3);
  int line = 1;
  for (; !rest.empty(); line += 2) {
    const std::string code = take_line(rest), value = take_line(rest);
    if (!is_group_code(code))
      throw fail(line, "\"" + code.substr(0, 20) + "\"", "a group code of a DXF drawing, a whole number");
    if (value.find('\0') != std::string::npos) throw fail(line + 1, "a byte 0", "text");
    if (code != "0" || value != "EOF") continue;
    // The library's reader waits for the rest of such a line for ever.
    if (rest.data()[-1] == '\r')
      throw fail(line + 1, "a last line that ends in a carriage return alone", "a line feed");
    return;
  }
  throw fail(line, "the end of the file", "more: a drawing ends with the lines 0 and EOF");
}

} // namespace lowspot::gis
