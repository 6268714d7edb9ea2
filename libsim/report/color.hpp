// Colours computed in a perceptual space, so that equal steps look equal and a grey print keeps their order.
#pragma once
#include <string>
#include <vector>

namespace lowspot::report {

struct Rgb {                  // sRGB, 0..1
  double r = 0, g = 0, b = 0; // red, green, blue
};
struct Lch { // OKLab in polar form (Ottosson 2020): lightness 0..1, chroma, hue in degrees
  double lightness = 0, chroma = 0, hue = 0; // lightness 0..1, chroma from 0, hue in degrees
};

// The colour, with its chroma reduced until it can be shown.
Rgb rgb(const Lch& color);
double lightness(const Rgb& color); // OKLab lightness, 0..1
std::string hex(const Rgb& color);  // "#rrggbb"

// A run of colours from light to dark, interpolated in OKLab between anchors.
struct Ramp {
  std::vector<Lch> anchors; // from light to dark, evenly spaced
};
Rgb sample(const Ramp& ramp, double position); // 0: light end, 1: dark end
Ramp hours_ramp();                             // straw over rust to plum: time
Ramp depth_ramp();                             // pale sky to deep blue: water

} // namespace lowspot::report
