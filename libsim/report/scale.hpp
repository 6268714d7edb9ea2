// The one scale that all panels of a map share: classes with a colour each.
#pragma once
#include <string>
#include <vector>

#include <lowspot/report/color.hpp>
#include <lowspot/report/units.hpp>
#include <lowspot/results/record.hpp>

namespace lowspot::report {

// Class k holds values from bounds[k] up to bounds[k + 1], the last one all above. Values below bounds[0] are
// not coloured. Values are in `unit_si` times SI.
struct Scale {
  std::string title;          // what is shown, in plain words
  std::string unit;           // "hours", "in"
  double unit_si = 1;         // value [SI or hours] = shown * unit_si
  std::vector<double> bounds; // rising, in `unit`
  std::vector<Rgb> colors;    // one a bound
  double target = -1;         // the value that is drawn as a line; negative: none
  std::string target_text;    // "target 24 h"
};

// Class of a value in the scale's unit; -1 below the first.
int class_of(const Scale& scale, double value);

// Hours of standing water; the target time is one of the bounds.
Scale hours_scale(const results::Comparison& comparison);
// Hours of soggy ground, rain included, in classes around the target for standing water.
Scale soggy_scale(const results::Comparison& comparison);
// The most water in the soil over the tight layer, up to the thickest of all designs.
Scale perched_scale(const results::Comparison& comparison, const Units& units);
// Depth of water, up to the deepest of all designs.
Scale depth_scale(const results::Comparison& comparison, const Units& units);

} // namespace lowspot::report
