#include <lowspot/base/csv_text.hpp>

namespace lowspot {

std::string csv_text(const std::string& text) {
  std::string safe = text;
  if (!safe.empty() && std::string("=+-@\t\r\n").find(safe.front()) != std::string::npos)
    safe.insert(0, 1, '\'');
  if (safe.find_first_of(",;\"\t\r\n") == std::string::npos) return safe;
  std::string quoted = "\"";
  for (const char letter : safe) {
    if (letter == '"') quoted += '"';
    quoted += letter;
  }
  return quoted + '"';
}

} // namespace lowspot
