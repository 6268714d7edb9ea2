// Lengths as a crew reads them off a rod: feet, inches and eighths, feet in hundredths, or millimetres.
#pragma once
#include <optional>
#include <string>
#include <string_view>

namespace lowspot::job {

// How a rod is divided: feet, inches and eighths; feet, tenths and hundredths; metres and millimetres.
enum class RodUnit { eighths, tenths, millimetres };

// "eighths", "tenths" or "mm"; empty for anything else.
std::optional<RodUnit> rod_unit_named(std::string_view name);

// A reading or an elevation difference [m], rounded to the rod's finest mark: 5' 4 3/8", 5.36 ft, 1634 mm.
std::string rod_text(double metres, RodUnit unit);
// A small difference without its sign: 3/8 in, 0.03 ft, 9 mm. Zero after rounding gives an empty text.
std::string difference_text(double metres, RodUnit unit);
// A width or a thickness, as buckets and layers are called: 11 in, 1/4 in, 300 mm, whatever feet the rod has.
std::string width_text(double metres, RodUnit unit);
// How deep to dig, and "none" where the works lie above the ground.
std::string cut_text(double metres, RodUnit unit);
// Finest mark of the rod [m].
double finest_mark(RodUnit unit);

// "0+30" with feet, "9.1 m" in metres (and beyond a million kilometres), measured up from the outlet.
std::string station_text(double metres, bool feet);
// Reads either form, or a bare number in the site's unit [m per unit]; empty when it is none of these. With
// metres (a unit of 1) what stands before a plus is kilometres, and three digits of metres follow: "0+030" is
// 30 m; "0+30" is not read.
std::optional<double> parse_station(std::string_view text, double unit);

} // namespace lowspot::job
