// The hardest rain known, to tell a slip of unit from a storm.
#pragma once

namespace lowspot::site {

// The greatest depth of rain [m] ever measured in a time [s], anywhere: Paulhus (1965), 16.6 in times the
// hours to the power 0.475.
double greatest_rain(double duration);

} // namespace lowspot::site
