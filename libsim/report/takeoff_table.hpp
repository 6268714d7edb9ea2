// The take-off as people read it: a table on the terminal, a page to print, a table for a spreadsheet.
#pragma once
#include <string>
#include <vector>

#include <lowspot/job/takeoff.hpp>

namespace lowspot::report {

// One item as text.
struct TakeoffRow {
  std::string group, item, net, ordered, weight, cost; // in the site's units
};
// One row an item, in the site's units.
std::vector<TakeoffRow> takeoff_rows(const job::Takeoff& takeoff, const site::Site& site);
// "In all $1240.00 for the 6 lines with a price of your own; 5 have none and are not in the sum."
std::string takeoff_sentence(const job::Takeoff& takeoff, const site::Site& site);
// What was added to each net figure: "stone: 8 % waste".
std::vector<std::string> takeoff_factors(const job::Takeoff& takeoff);
// Lengths, areas, volumes and weights in the units of takeoff_rows(), named in the column `unit` and in the
// heads.
std::string takeoff_csv(const job::Takeoff& takeoff, const site::Site& site);
std::string takeoff_html(const job::Takeoff& takeoff, const site::Site& site, const std::string& version);
// A sum of many items [of the currency], to the whole unit from a hundred on: "1,240"; below it "90.07".
std::string sum_figure(double value);
// A sum as it is written: "$12.50", but "EUR 12.50", since letters keep their distance.
std::string price_text(const std::string& figure, const site::Site& site);
// "m", "m2", "m3", "s" or "pieces".
std::string si_unit(job::Measure measure);

} // namespace lowspot::report
