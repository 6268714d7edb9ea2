#include <lowspot/terrain/slips.hpp>

#include <cctype>
#include <cmath>
#include <cstdio>

#include <lowspot/base/text.hpp>
#include <lowspot/terrain/rod_reading.hpp>

namespace lowspot::terrain {
namespace {

constexpr double foot = 0.3048, inch = 0.0254, least_change = 0.005;

bool digit(char c) {
  return c >= '0' && c <= '9';
}

// As many decimals as the book has.
std::string decimal(double value, const std::string& like) {
  const std::size_t point = like.find('.');
  const int decimals = point == std::string::npos ? 0 : static_cast<int>(like.size() - point - 1);
  char text[64];
  std::snprintf(text, sizeof text, "%.*f", decimals, value);
  return text;
}

std::string feet_and_inches(double metres) {
  const int eighths = static_cast<int>(std::lround(metres / (inch / 8)));
  std::string text = std::to_string(eighths / 96) + "' " + std::to_string(eighths % 96 / 8);
  int part = eighths % 8, of = 8;
  while (part > 0 && part % 2 == 0) {
    part /= 2;
    of /= 2;
  }
  if (part > 0) text += " " + std::to_string(part) + "/" + std::to_string(of);
  return text + "\"";
}

class Lister {
public:
  Lister(const Written& written, const RodReading& reading) : written_(written), reading_(reading) {}

  std::vector<Slip> run() {
    transposed();
    slipped();
    if (is_feet() && !reading_.inches) inches_as_tenths();
    if (reading_.inches) tenths_as_inches();
    return slips_;
  }

private:
  bool is_feet() const { return std::abs(written_.unit / foot - 1) < 1e-4; }

  void add(SlipKind kind, const std::string& meant, double metres) {
    const double change = written_.sense * (metres - reading_.metres);
    if (std::abs(change) < least_change || (written_.sense < 0 && metres < 0)) return;
    for (const Slip& slip : slips_)
      if (std::abs(slip.change - change) < 1e-6) return; // the likelier one stands first
    slips_.push_back({kind, meant, change});
  }

  void transposed() {
    std::string text = written_.text;
    std::size_t last = std::string::npos;
    for (std::size_t k = 0; k < text.size(); ++k) {
      if (!digit(text[k])) continue;
      // Neighbouring digits, also across the point: 45.3 for 4.53 is none, 5.43 for 4.53 is one.
      const bool beside =
          last != std::string::npos && (k == last + 1 || (k == last + 2 && text[last + 1] == '.'));
      if (beside && text[k] != text[last]) {
        std::string other = text;
        std::swap(other[k], other[last]);
        if (const auto parsed = parse_rod_reading(other, written_.unit))
          add(SlipKind::transposed, other, parsed->metres);
      }
      last = k;
    }
  }

  std::string shown(double metres) const {
    return reading_.inches ? feet_and_inches(metres) : decimal(metres / written_.unit, written_.text);
  }

  void slipped() {
    const bool feet = is_feet() || reading_.inches;
    const double unit = feet ? foot : 1;
    for (double sign : {1.0, -1.0}) {
      const double by = sign * unit;
      add(SlipKind::whole_unit, shown(reading_.metres + by), reading_.metres + by);
      if (!feet) add(SlipKind::whole_unit, shown(reading_.metres + by / 10), reading_.metres + by / 10);
      if (feet) add(SlipKind::half_foot, shown(reading_.metres + by / 2), reading_.metres + by / 2);
      if (feet) add(SlipKind::ten_units, shown(reading_.metres + 10 * by), reading_.metres + 10 * by);
    }
  }

  // "4.6" for 4' 6", "4.11" for 4' 11", "4.06" for 4' 6", "4.63" for 4' 6 3/8".
  void inches_as_tenths() {
    const std::size_t point = written_.text.find('.');
    if (point == std::string::npos || point == 0) return;
    const std::string decimals = written_.text.substr(point + 1);
    const double feet = std::floor(reading_.metres / foot + 1e-9) * foot;
    if (decimals.empty() || decimals.size() > 2 || !digit(decimals[0]) || !digit(decimals.back())) return;
    auto meant = [&](double inches) {
      if (inches < 12)
        add(SlipKind::inches_as_tenths, feet_and_inches(feet + inches * inch), feet + inches * inch);
    };
    const int first = decimals[0] - '0';
    if (decimals.size() == 1) {
      meant(first);
      return;
    }
    const int second = decimals[1] - '0';
    meant(10 * first + second);
    if (second == 0) meant(first);
    if (second == 5) meant(first + 0.5);
    if (second < 8) meant(first + second / 8.0);
  }

  // 4' 6" for 4.6 ft, 4' 6 1/2" for 4.65 ft.
  void tenths_as_inches() {
    const double feet = std::floor(reading_.metres / foot + 1e-9);
    const double inches = reading_.metres / inch - 12 * feet;
    if (inches >= 10) return;
    const double meant = feet + inches / 10;
    add(SlipKind::tenths_as_inches, rounded(meant, 4), meant * foot);
  }

  const Written& written_;
  const RodReading& reading_;
  std::vector<Slip> slips_;
};

} // namespace

std::vector<Slip> possible_slips(const Written& written) {
  if (written.sense == 0) return {};
  const auto reading = parse_rod_reading(written.text, written.unit);
  if (!reading) return {};
  return Lister(written, *reading).run();
}

std::string slip_name(SlipKind kind, double unit) {
  const bool metric = std::abs(unit / foot - 1) > 1e-4;
  switch (kind) {
  case SlipKind::transposed:
    return "two digits changed places";
  case SlipKind::whole_unit:
    return metric ? "a slip of a metre or a decimetre" : "a slip of a whole foot";
  case SlipKind::half_foot:
    return "a slip of half a foot";
  case SlipKind::ten_units:
    return "a slip of ten feet";
  case SlipKind::inches_as_tenths:
    return "inches written as tenths";
  case SlipKind::tenths_as_inches:
    return "tenths written as inches";
  }
  return "";
}

} // namespace lowspot::terrain
