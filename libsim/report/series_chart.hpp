// Charts made from recorded series.
#pragma once
#include <string>

#include <lowspot/report/page.hpp>
#include <lowspot/report/svg_chart.hpp>

namespace lowspot::report {

// Which of the recorded series are meant.
struct SeriesChoice {
  std::string starts, ends; // of the series' name
};
// Lines of all designs whose series begin and end so, in `unit`, against hours. A line is named after its
// design, with what stands between start and end when `name_part` is set.
std::vector<ChartLine> series_lines(const Page& page, const SeriesChoice& choice, const Unit& unit,
                                    bool name_part);
// Lines of all designs of the one series called so, named after their designs.
std::vector<ChartLine> named_series(const Page& page, const std::string& name, const Unit& unit);
// Names between start and end, each once, in the order met.
std::vector<std::string> series_parts(const Page& page, const SeriesChoice& choice);
// Rain as bars in `unit`, and the end of the rain as a mark.
void add_rain(Chart& chart, const Page& page);
// When the last line has fallen under a hundredth of its peak, with some room [h].
double busy_end(const std::vector<ChartLine>& lines);
double highest(const std::vector<ChartLine>& lines);

} // namespace lowspot::report
