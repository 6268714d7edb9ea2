#include <lowspot/rain/gauge.hpp>

#include <algorithm>
#include <cctype>
#include <optional>
#include <utility>

#include <lowspot/base/csv.hpp>
#include <lowspot/base/error.hpp>
#include <lowspot/base/limits.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/rain/gauge_columns.hpp>
#include <lowspot/rain/hard_rain.hpp>
#include <lowspot/site/greatest_rain.hpp>

namespace lowspot::rain {
namespace {

// The step that a record goes by: the commonest one, the shorter of two, if a quarter of all are like it; the
// middle one where all differ, as of a gauge that writes at each tip of its bucket.
struct Pace {
  double step = 0;    // s
  bool uneven = true; // no step is usual
};

Pace pace_of(const std::vector<double>& times) {
  std::vector<double> steps;
  for (std::size_t k = 1; k < times.size(); ++k) steps.push_back(times[k] - times[k - 1]);
  std::sort(steps.begin(), steps.end());
  constexpr double same = 1 + 1e-6; // times are written in round figures
  Pace pace;
  std::size_t most = 0;
  for (std::size_t first = 0, next = 0; first < steps.size(); first = next) {
    while (next < steps.size() && steps[next] <= steps[first] * same) ++next;
    if (next - first > most) most = next - first, pace.step = steps[first];
  }
  pace.uneven = most == 1 ? steps.size() > 3 : 4 * most < steps.size();
  if (pace.uneven) pace.step = steps[steps.size() / 2];
  return pace;
}

// Each reading is what fell since the one before, however long that is. A first one of nothing is where the
// watch began; any other fell in as long as the usual step of the others.
Hyetograph from_readings(const std::vector<double>& times, const std::vector<double>& depths) {
  Hyetograph result;
  const double before = depths[0] > 0 ? pace_of(times).step : 0;
  result.time.push_back(0);
  if (before > 0) {
    result.intensity.push_back(depths[0] / before);
    result.time.push_back(before);
  }
  for (std::size_t k = 1; k < times.size(); ++k) {
    result.intensity.push_back(depths[k] / (times[k] - times[k - 1]));
    result.time.push_back(before + times[k] - times[0]);
  }
  return result;
}

// What a running total rose by from row to row. A counter that starts again loses most of what it had; one
// that falls by less has only wavered (a float, a sun that dries the bucket), and what it then regains is no
// rain.
Hyetograph from_running_total(const GaugeRows& rows) {
  constexpr double restart_share = 0.5;
  std::vector<double> fallen = {0};
  int restarts = 0, first_restart = 0, dips = 0, first_dip = 0;
  double highest = rows.depths.front(), deepest_dip = 0;
  for (std::size_t k = 1; k < rows.depths.size(); ++k) {
    const double depth = rows.depths[k];
    if (depth < restart_share * highest) {
      fallen.push_back(depth);
      highest = depth;
      if (++restarts == 1) first_restart = rows.lines[k];
      continue;
    }
    if (depth < rows.depths[k - 1] && ++dips == 1) first_dip = rows.lines[k];
    deepest_dip = std::max(deepest_dip, highest - depth);
    fallen.push_back(std::max(0.0, depth - highest));
    highest = std::max(highest, depth);
  }
  Hyetograph result = from_readings(rows.times, fallen);
  if (rows.depths[0] > 0)
    result.warnings.push_back(rows.file + ": the running total stands at " +
                              depth_in_both_units(rows.depths[0]) + " in row " +
                              std::to_string(rows.lines[0]) + "; what fell before it is not in the storm");
  if (restarts > 0)
    result.warnings.push_back(
        rows.file + ": the running total falls " + std::to_string(restarts) +
        (restarts == 1 ? " time" : " times") + ", first in row " + std::to_string(first_restart) +
        ","
        " by more than half; each is taken as a restart at nothing, so that the row's whole depth is new");
  if (dips > 0)
    result.warnings.push_back(rows.file + ": the running total falls a little " + std::to_string(dips) +
                              (dips == 1 ? " time" : " times") + ", first in row " +
                              std::to_string(first_dip) + ", by up to " + depth_in_both_units(deepest_dip) +
                              "; no rain is taken until it is above what it had reached");
  return result;
}

// Rows that only rise say what had fallen so far: single intervals of a storm rise and fall. A total that
// began anew falls to nearly nothing; then it has also stood still above nothing, where single intervals of
// no rain are 0.
void warn_of_running_total(const GaugeRows& rows, Hyetograph& rain) {
  constexpr std::size_t fewest = 5, fewest_rises = 3, fewest_still = 2;
  constexpr double nearly_nothing = 0.1; // of what was reached
  std::size_t rises = 0, still = 0, restarts = 0;
  double total = 0;
  for (std::size_t k = 1; k < rows.depths.size(); ++k) {
    const double before = rows.depths[k - 1], now = rows.depths[k];
    if (now < before && now > nearly_nothing * before) return;
    restarts += now < before ? 1 : 0;
    rises += now > before ? 1 : 0;
    still += now == before && now > 0 ? 1 : 0;
    total += now < before ? now : now - before;
  }
  if (rows.depths.size() < fewest || rises < fewest_rises || (restarts > 0 && still < fewest_still)) return;
  rain.warnings.push_back(
      rows.file + ": the rain never falls from row to row" + (restarts > 0 ? " but to begin anew" : "") +
      ", as a running total does. Each row "
      "is taken as what fell in its own time, " +
      depth_in_both_units(rain.depth()) + " in all; if each is the total so far, it was " +
      depth_in_both_units(total) + ": call the column cumulative_mm or cumulative_in");
}

void warn_of_labels(const GaugeRows& rows, const Pace& pace, Hyetograph& rain) {
  if (rows.depths.front() == 0 && rows.depths.back() > 0)
    rain.warnings.push_back(
        rows.file +
        ": the first row has no rain and the last has some, as where each row is read off at the end of its "
        "time. Each is taken to begin its time, so that the rain ends " +
        rounded(pace.step / 60, 4) +
        " min after the last row; if yours were read off, call the column time_end");
}

// Intervals last until the next label; the last as long as usual. A gap longer than usual keeps its label's
// rain in an interval of the usual length.
Hyetograph from_starts(const GaugeRows& rows) {
  const std::vector<double>& times = rows.times;
  const Pace pace = pace_of(times);
  Hyetograph result;
  int gaps = 0, first_gap = 0;
  for (std::size_t k = 0; k < times.size(); ++k) {
    const double start = times[k] - times[0];
    const double next = k + 1 < times.size() ? times[k + 1] - times[0] : start + pace.step;
    result.time.push_back(start);
    if (next - start > 1.5 * pace.step) {
      result.intensity.push_back(rows.depths[k] / pace.step);
      result.time.push_back(start + pace.step);
      result.intensity.push_back(0);
      if (++gaps == 1) first_gap = rows.lines[k];
    } else {
      result.intensity.push_back(rows.depths[k] / (next - start));
    }
    if (k + 1 == times.size()) result.time.push_back(next);
  }
  warn_of_labels(rows, pace, result);
  if (gaps > 0) { // a record of a season may have thousands
    const std::string row = " after row " + std::to_string(first_gap);
    result.warnings.push_back(
        rows.file + ": " +
        (gaps == 1 ? "a gap" + row + " is" : std::to_string(gaps) + " gaps, the first" + row + ", are") +
        " taken as dry, and the rain of the row before to have fallen in " + rounded(pace.step / 60, 3) +
        " min");
  }
  if (pace.uneven)
    result.warnings.push_back(rows.file +
                              ": rows come at uneven times, and each is taken to begin its own; if each says "
                              "what fell since the one before, call the column time_end");
  warn_of_running_total(rows, result);
  return result;
}

// In the hardest interval or as a whole: a slip of the unit.
void warn_of_hard_rain(const GaugeRows& rows, Hyetograph& rain) {
  double hardest = 0, share = 0; // of what is known, in its time
  for (std::size_t k = 0; k < rain.intensity.size(); ++k) {
    const double duration = rain.time[k + 1] - rain.time[k];
    if (duration < 60) continue; // a tip of a bucket at the heels of another is no storm
    const double of_known = rain.intensity[k] * duration / site::greatest_rain(duration);
    if (of_known > share) share = of_known, hardest = duration;
  }
  std::string words = near_the_hardest(share * site::greatest_rain(hardest), hardest);
  if (words.empty()) words = near_the_hardest(rain.depth(), rain.end_of_rain());
  if (!words.empty()) rain.warnings.push_back(rows.file + ": " + words + "; check the unit of the column");
}

} // namespace

Hyetograph read_gauge(const std::filesystem::path& path) {
  const GaugeRows rows = read_gauge_rows(read_csv(path));
  Hyetograph rain = rows.running_total ? from_running_total(rows)
                    : rows.read_off    ? from_readings(rows.times, rows.depths)
                                       : from_starts(rows);
  warn_of_hard_rain(rows, rain);
  if (rain.depth() <= 0)
    rain.warnings.push_back(rows.file + ": no row has any rain, so nothing will stand anywhere; check the "
                                        "column of rain and the rows that were cut out");
  return rain;
}

} // namespace lowspot::rain
