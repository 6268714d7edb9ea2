// Where a pipe lies shallowest.
#pragma once
#include <lowspot/job/cut_sheet.hpp>

namespace lowspot::job {

// Ground over the outside of the pipe at a station [m]; less than 0 where the pipe comes out of it.
double cover(const CutRun& run, const CutStation& station);
// The station of a run with the least of it, those nearer than `left_out` [m] to its foot not looked at
// (site::run_out()); null where none is left.
const CutStation* least_covered(const CutRun& run, double left_out);

} // namespace lowspot::job
