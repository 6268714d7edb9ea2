// The last stretch of a pipe before a free end, where it comes out of the ground by intent.
#pragma once
#include <lowspot/site/site.hpp>

namespace lowspot::site {

// How far up from its foot a run has no cover to keep [m]: the `run_out` of [reach], but no more than half
// the run, so that something is left to judge. Nothing before an end that stays in the ground: a pop-up, a
// dry well, a pump, or another run.
double run_out(const Site& site, const Design& design, const Run& run);

} // namespace lowspot::site
