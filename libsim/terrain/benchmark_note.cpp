#include <lowspot/terrain/benchmark_note.hpp>

#include <cctype>
#include <charconv>
#include <cmath>

#include <lowspot/base/text.hpp>

namespace lowspot::terrain {
namespace {

// Where a note speaks of a benchmark; npos: nowhere.
std::size_t benchmark_word(const std::string& note) {
  const std::size_t whole = note.find("benchmark");
  if (whole != std::string::npos) return whole;
  const auto letter = [&](std::size_t at) { return std::isalpha(static_cast<unsigned char>(note[at])); };
  for (std::size_t at = note.find("bm"); at != std::string::npos; at = note.find("bm", at + 1))
    if ((at == 0 || !std::isalnum(static_cast<unsigned char>(note[at - 1]))) &&
        (at + 2 == note.size() || !letter(at + 2)))
      return at;
  return std::string::npos;
}

} // namespace

bool names_benchmark(const std::string& note) {
  return benchmark_word(lower(note)) != std::string::npos;
}

std::optional<double> benchmark_in_note(const std::string& note, bool backsight) {
  const std::string text = lower(note);
  const std::size_t at = benchmark_word(text);
  if (at == std::string::npos) return std::nullopt;
  // "BM1", "BM2" and "BM 2" are names: a number behind "=" counts anywhere, others only as the words next to
  // the benchmark, one with a decimal point before one that is neither. "beside BM, 0.5 lower" has none.
  const bool begins = text.find_first_not_of(" \t") == at;
  std::optional<double> decimal, whole;
  std::string word;
  bool equals = false, next_to = backsight || begins, first = true;
  for (std::size_t k = at; k <= text.size(); ++k) {
    const char c = k < text.size() ? text[k] : ' ';
    if (c != ' ' && c != '=' && c != ':' && c != ',' && c != ';' && c != '\t') {
      word += c;
      continue;
    }
    if (!word.empty()) {
      double value = 0;
      const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), value);
      const bool number = error == std::errc() && end == word.data() + word.size() && std::isfinite(value);
      if (number && equals) return value;
      std::optional<double>& kept = word.find('.') != std::string::npos ? decimal : whole;
      if (number && next_to && !kept) kept = value;
      next_to = next_to && (number || first);
      first = equals = false;
      word.clear();
    }
    equals = equals || c == '=';
    next_to = next_to && (backsight || (c != ',' && c != ';'));
  }
  return decimal ? decimal : backsight ? whole : std::nullopt;
}

} // namespace lowspot::terrain
