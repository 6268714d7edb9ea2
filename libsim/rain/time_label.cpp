#include <lowspot/rain/time_label.hpp>

#include <cctype>

#include <lowspot/base/text.hpp>

namespace lowspot::rain {
namespace {

// Days since 1970-01-01 of a date of our calendar (Hinnant's algorithm of days from civil).
long days_from_civil(int year, int month, int day) {
  year -= month <= 2;
  const long era = (year >= 0 ? year : year - 399) / 400;
  const long year_of_era = year - era * 400;
  const long day_of_year = (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + day - 1;
  return era * 146097 + year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year - 719468;
}

bool is_digit(char letter) {
  return std::isdigit(static_cast<unsigned char>(letter)) != 0;
}

// A text taken from its beginning, piece by piece.
class Pieces {
public:
  explicit Pieces(std::string text) : text_(std::move(text)) {}
  bool at_end() const { return at_ >= text_.size(); }
  char next() const { return at_end() ? '\0' : text_[at_]; }
  bool take(char letter) {
    if (next() != letter) return false;
    ++at_;
    return true;
  }
  bool take_word(const std::string& word) {
    if (text_.compare(at_, word.size(), word) != 0) return false;
    at_ += word.size();
    return true;
  }
  void pass_spaces() {
    while (take(' ')) {
    }
  }
  // A whole number of at least and at most so many digits.
  std::optional<int> number(int least, int most) {
    int value = 0, digits = 0;
    for (; digits < most && is_digit(next()); ++digits) value = 10 * value + (text_[at_++] - '0');
    if (digits < least) return {};
    return value;
  }

private:
  std::string text_;
  std::size_t at_ = 0;
};

// Days since 1970 of a date with its year first.
std::optional<long> take_date(Pieces& pieces) {
  const auto year = pieces.number(4, 4);
  const char hyphen = pieces.next();
  if (!year || *year < 1 || (hyphen != '-' && hyphen != '/')) return {};
  pieces.take(hyphen);
  const auto month = pieces.number(1, 2);
  if (!month || *month < 1 || *month > 12 || !pieces.take(hyphen)) return {};
  const auto day = pieces.number(1, 2);
  const long first = days_from_civil(*year, *month, 1);
  const long next = *month < 12 ? days_from_civil(*year, *month + 1, 1) : days_from_civil(*year + 1, 1, 1);
  if (!day || *day < 1 || *day > next - first) return {};
  return first + *day - 1;
}

// Seconds of the day.
std::optional<double> take_clock(Pieces& pieces) {
  const auto hour = pieces.number(1, 2);
  if (!hour || !pieces.take(':')) return {};
  const auto minute = pieces.number(2, 2);
  if (!minute || *minute > 59) return {};
  double second = 0;
  if (pieces.take(':')) {
    const auto whole = pieces.number(2, 2);
    if (!whole || *whole > 60) return {}; // a leap second
    second = *whole;
    if (pieces.take('.'))
      for (double share = 0.1; is_digit(pieces.next()); share /= 10) second += share * *pieces.number(1, 1);
  }
  pieces.pass_spaces();
  const bool before_noon = pieces.take_word("am"), after_noon = !before_noon && pieces.take_word("pm");
  const double past = *minute * 60 + second;
  if (before_noon || after_noon) {
    if (*hour < 1 || *hour > 12) return {};
    return (*hour % 12 + (after_noon ? 12 : 0)) * 3600.0 + past;
  }
  if (*hour > 24 || (*hour == 24 && past > 0)) return {};
  return *hour * 3600.0 + past;
}

// Seconds by which a zone's clock is ahead of Greenwich. Empty where it is no zone; nothing at all is none.
std::optional<double> take_zone(Pieces& pieces, bool& zoned) {
  pieces.pass_spaces();
  zoned = !pieces.at_end();
  if (!zoned || pieces.take('z') || pieces.take_word("utc") || pieces.take_word("gmt")) return 0;
  const bool behind = pieces.next() == '-';
  if (!behind && pieces.next() != '+') return {};
  pieces.take(pieces.next());
  const auto hours = pieces.number(2, 2);
  pieces.take(':');
  const auto minutes = pieces.at_end() ? std::optional<int>(0) : pieces.number(2, 2);
  if (!hours || *hours > 15 || !minutes || *minutes > 59) return {};
  return (behind ? -1 : 1) * (*hours * 3600.0 + *minutes * 60.0);
}

} // namespace

std::optional<TimeLabel> time_label(const std::string& text) {
  Pieces pieces(lower(trim(text)));
  const auto days = take_date(pieces);
  if (!days) return {};
  TimeLabel label;
  label.seconds = static_cast<double>(*days) * 86400;
  if (pieces.at_end()) return label;
  if (!pieces.take('t')) {
    if (pieces.next() != ' ') return {};
    pieces.pass_spaces();
  }
  const auto clock = take_clock(pieces);
  if (!clock) return {};
  const auto ahead = take_zone(pieces, label.zoned);
  if (!ahead || !pieces.at_end()) return {};
  label.seconds += *clock - *ahead;
  return label;
}

} // namespace lowspot::rain
