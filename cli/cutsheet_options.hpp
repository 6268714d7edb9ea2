// What the options of `lowspot cutsheet` may be: each throws InputError where it is not.
#pragma once
#include <optional>
#include <string>

#include <lowspot/report/cut_sheet_page.hpp>

namespace lowspot::cli {

// A length with its unit [m], as in `--tolerance "1/4 in"`.
double length_option(const std::string& name, const std::string& text);
// Distance of stations [m], of --every; where it is empty, that of the site's units.
double spacing_option(const std::string& text, const site::Site& site);
// How the rod is marked, of --rod; where it is empty, as in the site's units.
job::RodUnit rod_option(const std::string& text, const site::Site& site);
// Refuses a height of instrument, as given in the site's units, that gives readings which no rod has: one of
// another datum or in another unit. Returns a warning where the rod would be longer than crews carry; empty:
// none. Works and trenches of the page are the ones it is set up for.
std::string check_instrument(const std::optional<double>& given, const report::CutSheetPage& page);

} // namespace lowspot::cli
