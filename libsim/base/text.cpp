#include <lowspot/base/text.hpp>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <numeric>

#include <lowspot/base/error.hpp>
#include <lowspot/base/utf8.hpp>

namespace lowspot {
namespace {
bool is_space(char c) {
  return c == ' ' || c == '\t' || c == '\r' || c == '\n' || c == '\v' || c == '\f';
}

// Levenshtein (1966), with a swap of neighbours counted as one change.
std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> before(b.size() + 1), above(b.size() + 1), row(b.size() + 1);
  std::iota(above.begin(), above.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      row[j] = std::min({above[j] + 1, row[j - 1] + 1, above[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1)});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
        row[j] = std::min(row[j], before[j - 2] + 1);
    }
    before.swap(above);
    above.swap(row);
  }
  return above[b.size()];
}
} // namespace

std::string trim(std::string_view text) {
  while (!text.empty() && is_space(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_space(text.back())) text.remove_suffix(1);
  return std::string(text);
}

std::string lower(std::string_view text) {
  std::string result(text);
  for (char& c : result)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return result;
}

std::string nearest(std::string_view word, const std::vector<std::string>& candidates) {
  constexpr std::size_t longest = 200; // beyond this it is no misspelt name
  if (word.size() > longest) return "";
  const std::string wanted = lower(trim(word));
  std::string best;
  std::size_t best_distance = std::max<std::size_t>(1, wanted.size() / 3) + 1;
  for (const std::string& candidate : candidates) {
    if (candidate.size() > longest) continue;
    const std::size_t changes = edit_distance(wanted, lower(candidate));
    // A word that shares no letter in place with the candidate is not a misspelling of it.
    if (changes < best_distance && changes < std::max(wanted.size(), candidate.size())) {
      best_distance = changes;
      best = candidate;
    }
  }
  return best;
}

std::string number_text(double value) {
  std::array<char, 40> buffer{};
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value);
  return std::string(buffer.data(), end.ptr);
}

std::string rounded(double value, int digits) {
  if (!std::isfinite(value)) return std::isnan(value) ? "unknown" : value > 0 ? "unlimited" : "-unlimited";
  if (value == 0) return "0";
  digits = std::clamp(digits, 1, 17);
  std::array<char, 400> buffer{};
  char* const first = buffer.data();
  char* const last = first + buffer.size();
  // The exponent after rounding: 999.96 has exponent 3 at four digits.
  std::string text(first, std::to_chars(first, last, value, std::chars_format::scientific, digits - 1).ptr);
  const int exponent = std::stoi(text.substr(text.find('e') + 1));
  if (exponent >= -4 && exponent < 7) {
    double kept = 0;
    std::from_chars(text.data(), text.data() + text.size(), kept);
    const int decimals = std::max(0, digits - 1 - exponent);
    text.assign(first, std::to_chars(first, last, kept, std::chars_format::fixed, decimals).ptr);
    if (text.find('.') != std::string::npos) {
      text.erase(text.find_last_not_of('0') + 1);
      if (text.back() == '.') text.pop_back();
    }
    return text;
  }
  std::string mantissa = text.substr(0, text.find('e'));
  if (mantissa.find('.') != std::string::npos) {
    mantissa.erase(mantissa.find_last_not_of('0') + 1);
    if (mantissa.back() == '.') mantissa.pop_back();
  }
  return mantissa + "e" + std::to_string(exponent);
}

namespace {
void refuse_not_utf8(std::string_view content, const std::filesystem::path& path) {
  const std::size_t at = first_not_utf8(content);
  if (at == std::string_view::npos) return;
  const std::string_view before = content.substr(0, at);
  const auto line = 1 + std::count(before.begin(), before.end(), '\n');
  const std::size_t start = before.rfind('\n') + 1; // 0 where there is none
  char byte[8];
  std::snprintf(byte, sizeof byte, "0x%02X", static_cast<unsigned>(static_cast<unsigned char>(content[at])));
  throw InputError({path.string(), static_cast<int>(line), ""},
                   "a letter that is not UTF-8 (byte " + std::to_string(at - start + 1) + " of the line, " +
                       byte + ")",
                   "plain text in UTF-8",
                   "save it as UTF-8 (a spreadsheet: as \"CSV UTF-8\"), or write that letter plainly");
}
} // namespace

std::string read_text(const std::filesystem::path& path, std::size_t limit) {
  const Where where{path.string(), 0, ""};
  std::error_code problem;
  const auto status = std::filesystem::status(path, problem);
  if (!std::filesystem::exists(status))
    throw InputError(where, "no such file", "a text file", "check the name and the folder it is in");
  if (std::filesystem::is_directory(status))
    throw InputError(where, "a folder", "a text file", "name the file inside the folder");
  const auto too_large = [&](double bytes, bool more) {
    return InputError(where,
                      std::string("a file of ") + (more ? "more than " : "") + rounded(bytes / 1e6, 3) +
                          " MB, which is read whole and would take as much memory and more",
                      "a text file of at most " + rounded(static_cast<double>(limit) / 1e6, 3) + " MB",
                      "cut it down to the part that is needed");
  };
  if (std::filesystem::is_regular_file(status)) {
    const auto size = std::filesystem::file_size(path, problem);
    if (!problem && size > limit) throw too_large(static_cast<double>(size), false);
  }
  std::ifstream stream(path, std::ios::binary);
  if (!stream)
    throw InputError(where, "a file that cannot be opened", "a readable text file", "check who may read it");
  std::string content;
  std::array<char, 1 << 16> piece{};
  while (stream.read(piece.data(), piece.size()), stream.gcount() > 0) {
    content.append(piece.data(), static_cast<std::size_t>(stream.gcount()));
    if (content.size() > limit) throw too_large(static_cast<double>(limit), true);
  }
  if (stream.bad())
    throw InputError(where, "a file that cannot be read to its end", "a readable text file", "copy it anew");
  if (content.find('\0') != std::string::npos)
    throw InputError(where, "bytes that are not text", "a plain text file",
                     "save it as plain text in UTF-8 (a spreadsheet: as CSV)");
  refuse_not_utf8(content, path);
  if (content.starts_with("\xEF\xBB\xBF")) content.erase(0, 3);
  return content;
}

} // namespace lowspot
