// Levels of a design whose trench depth, fall or place was changed, carried through to its outlet.
#pragma once
#include <functional>
#include <string>
#include <vector>

#include <lowspot/site/site.hpp>

namespace lowspot::study {

// What is to change of a design's levels.
struct Levelling {
  double depth =
      site::not_given; // of the trench at free heads of varied runs [m]; not given: as in the design
  double fall = site::not_given; // of the varied runs [m/m]; not given: as in the design
  double least_fall = 0.005;     // m/m, where the design itself has no less
};

// Gives every run of `changed` inverts, one a point of its path. `design` is what it was made from: the same
// runs with the same numbers of points. Varied runs keep or take depth and fall; what leads on from them is
// laid steeper or flatter, evenly, so that water still leaves where the outlet is. A daylight outlet is
// lowered only as far as the ground there, and only where the fall asks for it. ground_at: elevation [m] at a
// point. Returns why it cannot be laid, in a sentence, or an empty text. Throws InputError when the design
// itself cannot be built.
std::string relevel(const site::Site& site, const site::Design& design, const std::vector<bool>& varied,
                    const Levelling& wanted, const std::function<double(Point)>& ground_at,
                    site::Design& changed);

} // namespace lowspot::study
