#include <lowspot/report/color.hpp>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <numbers>

namespace lowspot::report {
namespace {

struct Lab {
  double l = 0, a = 0, b = 0;
};

Lab lab_of(const Lch& color) {
  const double angle = color.hue * std::numbers::pi / 180;
  return {color.lightness, color.chroma * std::cos(angle), color.chroma * std::sin(angle)};
}

// OKLab to linear sRGB (Ottosson 2020).
Rgb linear(const Lab& lab) {
  const auto cube = [](double v) { return v * v * v; };
  const double l = cube(lab.l + 0.3963377774 * lab.a + 0.2158037573 * lab.b);
  const double m = cube(lab.l - 0.1055613458 * lab.a - 0.0638541728 * lab.b);
  const double s = cube(lab.l - 0.0894841775 * lab.a - 1.2914855480 * lab.b);
  return {4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s,
          -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s,
          -0.0041960863 * l - 0.7034186147 * m + 1.7076147010 * s};
}

bool can_be_shown(const Rgb& c) {
  const auto good = [](double v) { return v >= -1e-9 && v <= 1 + 1e-9; };
  return good(c.r) && good(c.g) && good(c.b);
}

double encode(double v) {
  v = std::clamp(v, 0.0, 1.0);
  return v <= 0.0031308 ? 12.92 * v : 1.055 * std::pow(v, 1 / 2.4) - 0.055;
}

double decode(double v) {
  return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
}

Rgb shown(Lab lab) {
  Rgb c = linear(lab);
  while (!can_be_shown(c) && (std::abs(lab.a) > 1e-4 || std::abs(lab.b) > 1e-4)) {
    lab.a *= 0.98;
    lab.b *= 0.98;
    c = linear(lab);
  }
  return {encode(c.r), encode(c.g), encode(c.b)};
}

} // namespace

Rgb rgb(const Lch& color) {
  return shown(lab_of(color));
}

double lightness(const Rgb& color) {
  const double r = decode(color.r), g = decode(color.g), b = decode(color.b);
  const double l = std::cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b);
  const double m = std::cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b);
  const double s = std::cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b);
  return 0.2104542553 * l + 0.7936177850 * m - 0.0040720468 * s;
}

std::string hex(const Rgb& color) {
  const auto byte = [](double v) {
    return static_cast<unsigned>(std::lround(255 * std::clamp(v, 0.0, 1.0)));
  };
  char text[8];
  std::snprintf(text, sizeof text, "#%02x%02x%02x", byte(color.r) & 255u, byte(color.g) & 255u,
                byte(color.b) & 255u);
  return text;
}

Rgb sample(const Ramp& ramp, double position) {
  const auto last = ramp.anchors.size() - 1;
  const double along = std::clamp(position, 0.0, 1.0) * static_cast<double>(last);
  const auto left = std::min(static_cast<std::size_t>(along), last - 1);
  const double share = along - static_cast<double>(left);
  const Lab a = lab_of(ramp.anchors[left]), b = lab_of(ramp.anchors[left + 1]);
  return shown({a.l + share * (b.l - a.l), a.a + share * (b.a - a.a), a.b + share * (b.b - a.b)});
}

Ramp hours_ramp() {
  return {{{0.94, 0.055, 95}, {0.80, 0.115, 78}, {0.63, 0.135, 48}, {0.45, 0.125, 22}, {0.27, 0.085, 345}}};
}

Ramp depth_ramp() {
  return {{{0.93, 0.035, 215}, {0.79, 0.085, 228}, {0.61, 0.12, 245}, {0.43, 0.125, 261}, {0.27, 0.09, 272}}};
}

} // namespace lowspot::report
