#include <lowspot/site/site_text.hpp>

#include <algorithm>
#include <cctype>
#include <sstream>
#include <vector>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>

namespace lowspot::site {
namespace {
std::string line_of_text(const std::string& content, int number) {
  std::istringstream stream(content);
  std::string line;
  for (int k = 0; k < number && std::getline(stream, line); ++k) {
  }
  return line;
}

bool has_any(const std::string& text, const std::vector<std::string>& pieces) {
  return std::any_of(pieces.begin(), pieces.end(),
                     [&](const std::string& piece) { return text.find(piece) != std::string::npos; });
}

long count(const std::string& text, char sign) {
  return std::count(text.begin(), text.end(), sign);
}

// The key of a line `key = value`; empty where none begins there.
std::string key_of(const std::string& line) {
  const std::size_t equals = line.find('=');
  const std::string key = equals == std::string::npos ? "" : trim(line.substr(0, equals));
  const bool plain = std::all_of(key.begin(), key.end(), [](unsigned char sign) {
    return std::isalnum(sign) != 0 || sign == '_' || sign == '-' || sign == '.';
  });
  return plain ? key : "";
}
} // namespace

std::filesystem::path find_site_file(const std::filesystem::path& path) {
  namespace fs = std::filesystem;
  std::error_code code;
  if (fs::is_directory(path, code)) {
    const fs::path inside = path / "site.toml";
    if (fs::exists(inside, code)) return inside;
    throw InputError({path.string(), 0, ""}, "a folder without a site.toml",
                     "a site file or a folder that holds site.toml",
                     "`lowspot start " + path.string() + "` writes one to begin from.");
  }
  if (!fs::exists(path, code))
    throw InputError({path.string(), 0, ""}, "no such file", "a site file or a folder that holds site.toml",
                     "Check the spelling of the path; `lowspot start DIR` writes a site file to begin from.");
  return path;
}

std::string syntax_hint(const std::string& line, const std::string& before) {
  const std::string text = trim(line), above = trim(before);
  const bool open_above = count(above, '[') > count(above, ']') || count(above, '{') > count(above, '}');
  if (open_above && above.back() != ',' && above.back() != '[' && above.back() != '{')
    return "A bracket or a comma is missing at the end of the line before.";
  if (has_any(text, {"\u201c", "\u201d", "\u2018", "\u2019"}))
    return "A word processor has curled the quotes: type straight ones, \" \".";
  if (text.starts_with('[') && text.find('=') == std::string::npos)
    return "A heading stands once, [storm]; things there may be several of have double brackets, [[area]].";
  const std::size_t equals = text.find('=');
  if (equals == std::string::npos)
    return "Each line is `key = value`; a remark begins with #. Look at the line before, too: a bracket may "
           "be open.";
  const std::string value = trim(text.substr(equals + 1));
  if (value.empty()) return "The value is missing after the = sign.";
  if (count(value, '"') % 2 == 1)
    return "A quote is open. Inches inside quotes are written \\\" or in: \"6' 4 in\".";
  if (count(value, '[') != count(value, ']') || count(value, '{') != count(value, '}'))
    return "Brackets do not pair on this line.";
  if (value.find('"') == std::string::npos && value.front() != '[' && value.front() != '{')
    return "Text and figures with a unit need quotes: " + trim(text.substr(0, equals)) + " = \"" + value +
           "\".";
  return "Text and figures with a unit stand in quotes, commas stand between the entries of a list.";
}

toml::table parse_site_text(const std::string& content, const std::string& file_name) {
  try {
    return toml::parse(content, file_name);
  } catch (const toml::parse_error& error) {
    const int line = static_cast<int>(error.source().begin.line);
    const std::string what(error.description());
    std::string hint =
        syntax_hint(line_of_text(content, line), line > 1 ? line_of_text(content, line - 1) : "");
    if (what.find("redefin") != std::string::npos || what.find("duplicate") != std::string::npos)
      hint = "The same key or heading stands twice. Things there may be several of have double brackets, "
             "[[area]].";
    if (what.find("as array-of-tables") != std::string::npos)
      hint = "A heading of one of its parts, such as [[design.run]], stands above this first one of its own: "
             "write that before, or look there for one that is misspelt.";
    if (what.find("expected '\\n' after '\\r'") != std::string::npos)
      hint = "Its lines end in a carriage return alone: save it with the line ends of Unix or Windows.";
    if (what.find("could not be interpreted as a value") != std::string::npos ||
        what.find("not representable") != std::string::npos)
      hint = "Check the figure and its place of the decimal point: it is beyond any that is computed with.";
    throw InputError({file_name, line, key_of(line_of_text(content, line))},
                     "a line that cannot be read (" + what + ")", "TOML, `key = value`", hint);
  }
}

} // namespace lowspot::site
