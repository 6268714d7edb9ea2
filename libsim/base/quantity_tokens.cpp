#include <lowspot/base/quantity_tokens.hpp>

#include <charconv>
#include <cmath>
#include <utility>

#include <lowspot/base/text.hpp>

namespace lowspot {
namespace {
bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

class Cutter {
public:
  explicit Cutter(std::string text) : text_(std::move(text)) {}

  QuantityTokens run() {
    while (result_.problem.empty()) {
      while (at_ < text_.size() && (text_[at_] == ' ' || text_[at_] == '\t')) ++at_;
      if (at_ >= text_.size()) break;
      const char c = text_[at_];
      if (is_digit(c) || c == '.')
        number();
      else if (is_letter(c))
        word();
      else if (c == '\'' || c == '"' || c == '%')
        push({QuantityToken::word, c == '\'' ? "ft" : c == '"' ? "in" : "%", 0, false, 1}, 1);
      else if (std::string_view("+-/:*").find(c) != std::string_view::npos)
        push({QuantityToken::sign, std::string(1, c), 0, false, 1}, 1);
      else if (c == ',' && between_terms())
        ++at_;
      else if (c == ',')
        result_.problem = "a comma could mark decimals or thousands: write 1.5 or 1500";
      else
        result_.problem = "cannot read \"" + text_.substr(at_) + "\"";
    }
    result_.tokens.emplace_back();
    return std::move(result_);
  }

private:
  char ahead(std::size_t steps) const { return at_ + steps < text_.size() ? text_[at_ + steps] : '\0'; }

  // A comma behind a unit and before a number parts them, "6 feet, 4 inches": it marks nothing else there.
  bool between_terms() const {
    std::size_t next = at_ + 1;
    while (next < text_.size() && text_[next] == ' ') ++next;
    return !result_.tokens.empty() && result_.tokens.back().kind == QuantityToken::word &&
           next < text_.size() && is_digit(text_[next]);
  }

  void push(QuantityToken token, std::size_t width) {
    result_.tokens.push_back(std::move(token));
    at_ += width;
  }

  void number() {
    std::size_t end = at_;
    while (end < text_.size() && (is_digit(text_[end]) || text_[end] == '.')) ++end;
    // An exponent only where digits follow, so that "3 e..." stays a word.
    if (end < text_.size() && (text_[end] == 'e' || text_[end] == 'E')) {
      std::size_t digits = end + 1;
      if (digits < text_.size() && (text_[digits] == '-' || text_[digits] == '+')) ++digits;
      if (digits < text_.size() && is_digit(text_[digits])) {
        while (digits < text_.size() && is_digit(text_[digits])) ++digits;
        end = digits;
      }
    }
    const std::string written = text_.substr(at_, end - at_);
    QuantityToken token{QuantityToken::number, written, 0, true, 1};
    for (char c : written) token.whole = token.whole && is_digit(c);
    const auto read = std::from_chars(written.data(), written.data() + written.size(), token.value);
    if (read.ec != std::errc() || read.ptr != written.data() + written.size() || !std::isfinite(token.value))
      result_.problem = "\"" + written + "\" is not a number";
    push(token, written.size());
  }

  void word() {
    std::size_t end = at_;
    while (end < text_.size() && is_letter(text_[end])) ++end;
    QuantityToken token{QuantityToken::word, lower(std::string_view(text_).substr(at_, end - at_)), 0, false,
                        1};
    push(token, end - at_);
    if (at_ < text_.size() && text_[at_] == '.' && !is_digit(ahead(1))) ++at_;
    result_.tokens.back().power = power();
  }

  // A power stands right behind its word: 2, -1, ^2, **2, and nothing that belongs to a next number or word
  // behind it.
  int power() {
    std::size_t step = 0;
    if (ahead(0) == '^') step = 1;
    if (ahead(0) == '*' && ahead(1) == '*') step = 2;
    const bool marked = step > 0;
    const bool negative = ahead(step) == '-';
    if (negative) ++step;
    const char digit = ahead(step), behind = ahead(step + 1);
    if (!is_digit(digit) || digit == '0' || is_digit(behind) || is_letter(behind) || behind == '.') {
      if (marked) result_.problem = "cannot read the power in \"" + text_ + "\"";
      return 1;
    }
    at_ += step + 1;
    return negative ? -(digit - '0') : digit - '0';
  }

  std::string text_;
  std::size_t at_ = 0;
  QuantityTokens result_;
};
} // namespace

std::string plain_marks(std::string_view text) {
  static constexpr std::pair<const char*, const char*> marks[] = {
      {"\xC2\xB2", "2"},
      {"\xC2\xB3", "3"},
      {"\xE2\x80\xB2", "'"},
      {"\xE2\x80\xB3", "\""},
      {"\xE2\x80\x98", "'"},
      {"\xE2\x80\x99", "'"},
      {"\xE2\x80\x9C", "\""},
      {"\xE2\x80\x9D", "\""},
      {"\xC2\xB0", " deg "},
      {"\xE2\x88\x92", "-"},
      {"\xE2\x80\x93", "-"},
      {"\xC2\xB7", "*"},
      {"\xC2\xA0", " "},
      {"\xC2\xBC", " 1/4"},
      {"\xC2\xBD", " 1/2"},
      {"\xC2\xBE", " 3/4"},
      {"\xE2\x85\x9B", " 1/8"},
      {"\xE2\x85\x9C", " 3/8"},
      {"\xE2\x85\x9D", " 5/8"},
      {"\xE2\x85\x9E", " 7/8"},
      {"\xC2\xB5", "u"},
      {"\xCE\xBC", "u"},
      {"''", "\""},
  };
  std::string result(text);
  for (const auto& [mark, plain] : marks)
    for (std::size_t at = 0; (at = result.find(mark, at)) != std::string::npos;
         at += std::string_view(plain).size())
      result.replace(at, std::string_view(mark).size(), plain);
  return result;
}

QuantityTokens cut_quantity(std::string_view text) {
  return Cutter(plain_marks(text)).run();
}

} // namespace lowspot
