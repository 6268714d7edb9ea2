// Standing hours against what works take: a point a combination, the front as a line.
#pragma once
#include <string>

#include <lowspot/site/site.hpp>
#include <lowspot/study/tune.hpp>

namespace lowspot::report {

// 720 wide, as SVG, in the colours of the page: full runs as filled points, quick looks as rings, the
// smallest that works and the knee named, the target as a level line. Empty when nothing was run.
std::string tune_chart_svg(const site::Site& site, const study::Tuning& tuning);
// Rules for its marks, for the page's style.
extern const char* const tune_chart_style;

} // namespace lowspot::report
