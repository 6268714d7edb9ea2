// From a figure and a limit to an item of the list.
#pragma once
#include <string>

#include <lowspot/results/check_record.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::checks {

// The limit of this name; null when the site has none.
const catalog::PracticeLimit* find_limit(const site::Site& site, const std::string& name);
// Its figure [SI]; not a number where there is none.
double limit_value(const site::Site& site, const std::string& name);

// "8.2 in", "1.4 ft/s", "63 %", in the units of the site; "0 %" of a fall that nobody can measure.
std::string written(catalog::LimitKind kind, double value, const site::Site& site);
// A length below which nobody measures [m].
inline constexpr double least_length = 1e-3;
// A fall below which nobody measures [m/m]: a millimetre in a hundred metres.
inline constexpr double least_slope = 1e-5;
// A distance: "12 ft", "4 in"; "0 in" of what nobody can measure.
std::string length_text(double value, const site::Site& site);

// The figure of a limit as a person writes it: in metres for a yard in metres, but a town's own as it stands.
std::string limit_text(const catalog::PracticeLimit& limit, const site::Site& site);

// An item held against the limit `limit_name`, not yet judged.
results::CheckRecord item(const site::Site& site, const std::string& limit_name, std::string id,
                          std::string name, std::string about);
// Judges `value` [SI]: pass, fail, or unknown when the limit has no figure, in which case `missing` says whom
// to ask. `where` follows the figure: ", 12 ft up from the outlet".
void judge(results::CheckRecord& record, const site::Site& site, const std::string& limit_name, double value,
           const std::string& where = "");

} // namespace lowspot::checks
