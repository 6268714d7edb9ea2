// Where the bottom of a trench steps up the way the water runs, though the pipe does not rise.
#pragma once
#include <string>

#include <lowspot/job/cut_sheet.hpp>
#include <lowspot/job/rod_text.hpp>

namespace lowspot::job {

// "up 1 5/8 in at elbow": a pipe on a bed of stone ends in one without; empty where no bottom steps up. Where
// several runs end or begin it says which: "up 1 3/4 in from east leg at tee".
std::string bottom_steps(const CutSheet& sheet, RodUnit rod);

} // namespace lowspot::job
