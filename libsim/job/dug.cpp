#include <lowspot/job/dug.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/drain/pipe_section.hpp>
#include <lowspot/job/rod_text.hpp>
#include <lowspot/terrain/rod_reading.hpp>

namespace lowspot::job {
namespace {

constexpr double station_slack = 0.05; // m a station may lie beyond the end of a run
constexpr double slice = 0.05;         // m: bellies are measured in pieces about this long
constexpr double no_trench = 0.3048;   // m beyond the depth of the trench: no reading of this trench
// m: two rods read to the nearest eighth of an inch differ by as much where nothing is wrong.
constexpr double least_belly = 0.0033;

double lowest_station(const CutRun& run) {
  return run.stations.front().station;
}
double highest_station(const CutRun& run) {
  return run.stations.back().station;
}
bool reaches(const CutRun& run, double station) {
  return station >= lowest_station(run) - station_slack && station <= highest_station(run) + station_slack;
}

// A value at a station of a run: straight between the sheet's stations.
template <typename Value>
double between_stations(const CutRun& run, double station, Value value) {
  for (std::size_t k = 1; k < run.stations.size(); ++k) {
    const CutStation &low = run.stations[k - 1], &high = run.stations[k];
    if (station > high.station && k + 1 < run.stations.size()) continue;
    const double piece = high.station - low.station;
    const double t = piece > 0 ? std::clamp((station - low.station) / piece, 0.0, 1.0) : 0.0;
    return value(low) + t * (value(high) - value(low));
  }
  return value(run.stations.front());
}
double wanted_bottom(const CutRun& run, double station) {
  return between_stations(run, station, [](const CutStation& each) { return each.bottom; });
}

const CutRun* run_called(const CutSheet& sheet, const std::string& name) {
  for (const CutRun& run : sheet.runs)
    if (lower(run.name) == lower(name)) return &run;
  return nullptr;
}

std::string names_of_runs(const CutSheet& sheet) {
  std::string names;
  for (const CutRun& run : sheet.runs) names += (names.empty() ? "\"" : ", \"") + run.name + "\"";
  return names;
}

class DugTable {
public:
  DugTable(const CsvTable& table, const CutSheet& sheet, const DugUnits& units)
      : table_(table), sheet_(sheet), units_(units) {
    if (table.column("station") < 0)
      fail(table.header_line, "station", "no column of that name", "the columns station and reading",
           "add a column with the station, such as 0+30");
    if (table.column("reading") < 0 && table.column("elevation") < 0)
      fail(table.header_line, "reading", "no column of that name", "the columns station and reading",
           "add a column with the rod readings in the trench");
  }

  DugReading read(const CsvRow& row) const {
    DugReading result;
    result.line = row.line;
    const std::string station = table_.text(row, "station");
    const auto place = parse_station(station, units_.coordinates);
    if (!place)
      fail(row.line, "station", "\"" + station + "\"",
           units_.coordinates < 1 ? "a station such as 0+30" : "a station such as 30 m or 0+030",
           units_.coordinates < 1 ? "write the distance up from the outlet"
                                  : "write the distance up from the outlet; after a plus metres have three "
                                    "digits");
    const CutRun& run = run_of(row, *place);
    result.run = run.name;
    result.station = on_the_sheet(run, *place);
    const double on = height_above_bottom(row, run);
    const std::string elevation = table_.text(row, "elevation");
    result.bottom = (elevation.empty() ? units_.instrument - reading(row)
                                       : table_.number(row, "elevation") * units_.coordinates) -
                    on;
    refuse_far_off(row, run, result);
    return result;
  }

private:
  [[noreturn]] void fail(int line, const std::string& column, const std::string& found,
                         const std::string& expected, const std::string& mend) const {
    throw InputError({table_.file, line, column}, found, expected, mend);
  }

  // The station of the sheet that is printed as what was typed, where there is one: a bend at 17.43 ft is
  // printed 0+17.4. Never beyond the ends of the run.
  double on_the_sheet(const CutRun& run, double typed) const {
    const double half = 0.5 * (units_.coordinates < 1 ? 0.1 * units_.coordinates : 0.01) + 1e-9;
    double nearest = std::clamp(typed, lowest_station(run), highest_station(run)), away = half;
    for (const CutStation& station : run.stations)
      if (std::abs(station.station - typed) <= away) {
        nearest = station.station;
        away = std::abs(station.station - typed);
      }
    return nearest;
  }

  // A slip in the unit or in the height of instrument is not answered with stone to fill in.
  void refuse_far_off(const CsvRow& row, const CutRun& run, const DugReading& found) const {
    const double off = found.bottom - wanted_bottom(run, found.station);
    const double deep =
        between_stations(run, found.station, [](const CutStation& each) { return each.cut(); });
    const double most = std::max(0.0, deep) + no_trench;
    if (std::abs(off) <= most) return;
    const bool feet = units_.coordinates < 1;
    const auto length = [&](double metres) {
      return feet ? rounded(metres / units_.coordinates, 3) + " ft" : rounded(metres, 3) + " m";
    };
    const bool is_elevation = !table_.text(row, "elevation").empty();
    std::string mend = is_elevation ? std::string("write elevations in ") + (feet ? "feet" : "metres")
                       : feet ? "write readings in feet (7.40) or with their marks (7' 4 3/4\", 88.75 in)"
                              : "write readings in metres (1.320) or with their unit (1320 mm)";
    mend += is_elevation ? ", or correct the station"
                         : ", or correct the height of instrument (--hi) or the station";
    fail(row.line, is_elevation ? "elevation" : "reading",
         "\"" + table_.text(row, is_elevation ? "elevation" : "reading") + "\", " + length(std::abs(off)) +
             (off > 0 ? " above" : " below") + " the bottom wanted at " + station_text(found.station, feet),
         "a reading within " + length(most) + " of it, a foot more than the trench is deep", mend);
  }

  double reading(const CsvRow& row) const {
    const std::string text = table_.text(row, "reading");
    const auto parsed = terrain::parse_rod_reading(text, units_.readings);
    if (!parsed)
      fail(row.line, "reading", text.empty() ? "nothing" : "\"" + text + "\"",
           "a rod reading such as 4.35, 4' 3 5/8\" or 1.32 m", "correct the reading");
    if (!std::isfinite(units_.instrument))
      fail(row.line, "reading", "a rod reading", "the height of instrument it was read with",
           "give it with --hi, or write elevations in a column of that name");
    return parsed->metres;
  }

  double height_above_bottom(const CsvRow& row, const CutRun& run) const {
    const std::string on = lower(table_.text(row, "on"));
    if (on.empty() || on == "bottom") return 0;
    if (on == "invert") return run.bedding;
    if (on == "pipe") return run.bedding + 0.5 * (run.inside_diameter + run.outside_diameter);
    fail(row.line, "on", "\"" + on + "\"", "\"bottom\", \"invert\" or \"pipe\" (its top)",
         "say what the rod stood on");
  }

  const CutRun& run_of(const CsvRow& row, double station) const {
    const std::string name = table_.text(row, "run");
    if (name.empty()) {
      for (const CutRun& run : sheet_.runs)
        if (reaches(run, station)) return run;
      fail(row.line, "station", station_text(station, units_.coordinates < 1), "a station of this design",
           "stations are counted up from the outlet, see the cut sheet");
    }
    const CutRun* run = run_called(sheet_, name);
    if (!run)
      fail(row.line, "run", "\"" + name + "\"", "a run of this design: " + names_of_runs(sheet_),
           "correct the name");
    if (!reaches(*run, station))
      fail(row.line, "station", station_text(station, units_.coordinates < 1),
           "a station between " + station_text(lowest_station(*run), units_.coordinates < 1) + " and " +
               station_text(highest_station(*run), units_.coordinates < 1),
           "stations are counted up from the outlet, see the cut sheet");
    return *run;
  }

  const CsvTable& table_;
  const CutSheet& sheet_;
  const DugUnits& units_;
};

std::vector<DugReading> readings_of(const std::vector<DugReading>& readings, const std::string& run) {
  std::vector<DugReading> result;
  for (const DugReading& reading : readings)
    if (reading.run == run) result.push_back(reading);
  std::sort(result.begin(), result.end(),
            [](const DugReading& a, const DugReading& b) { return a.station < b.station; });
  return result;
}

// How far what was found lies above what was wanted, straight between readings, nothing beyond them.
double too_high_at(const std::vector<DugReading>& readings, const CutRun& run, double station) {
  if (readings.empty() || station < readings.front().station - 1e-9 ||
      station > readings.back().station + 1e-9)
    return 0;
  const auto excess = [&](const DugReading& reading) {
    return reading.bottom - wanted_bottom(run, reading.station);
  };
  for (std::size_t k = 1; k < readings.size(); ++k) {
    if (station > readings[k].station) continue;
    const double piece = readings[k].station - readings[k - 1].station;
    const double t = piece > 0 ? (station - readings[k - 1].station) / piece : 1.0;
    return (1 - t) * excess(readings[k - 1]) + t * excess(readings[k]);
  }
  return excess(readings.back());
}

// How high the drain rises further down, on the lowest way out of each place where runs meet.
class Sills {
public:
  explicit Sills(const site::Design& design) : design_(design) {}

  // Of what lies beyond a fitting or outlet, elevation [m]; minus infinity where water falls free, or where
  // nobody knows the inverts.
  double beyond(const std::string& place) {
    const auto [known, is_new] =
        beyond_.emplace(place, free_fall); // as it stays while a loop comes back to it
    if (!is_new) return known->second;
    double lowest = std::numeric_limits<double>::infinity();
    for (const site::Run& run : design_.runs)
      if (!place.empty() && run.from == place) lowest = std::min(lowest, over(run));
    return beyond_[place] = std::isfinite(lowest) ? lowest : free_fall;
  }

private:
  static constexpr double free_fall = -std::numeric_limits<double>::infinity();

  double over(const site::Run& run) {
    if (run.inverts.empty()) return free_fall;
    return std::max(*std::max_element(run.inverts.begin(), run.inverts.end()), beyond(run.to));
  }

  const site::Design& design_;
  std::map<std::string, double> beyond_;
};

// Water is held where the pipe further down, in this run or beyond its foot, rises above it.
std::vector<Belly> bellies_of(const site::Run& run, double foot_station, double sill_beyond) {
  const double total = length(run.path);
  const int pieces = std::max(1, static_cast<int>(std::ceil(total / slice)));
  std::vector<double> corner{0};
  for (std::size_t k = 1; k < run.path.size(); ++k)
    corner.push_back(corner.back() + distance(run.path[k - 1], run.path[k]));
  std::vector<Belly> result;
  double sill = std::max(run.inverts.back(), sill_beyond), step = total / pieces;
  std::size_t piece = run.path.size() - 1;
  bool in_belly = false;
  for (int k = 0; k <= pieces; ++k) {
    const double from_head = total - k * step;
    while (piece > 1 && corner[piece - 1] > from_head) --piece;
    const double span = corner[piece] - corner[piece - 1];
    const double t = span > 0 ? std::clamp((from_head - corner[piece - 1]) / span, 0.0, 1.0) : 0.0;
    const double invert = run.inverts[piece - 1] + t * (run.inverts[piece] - run.inverts[piece - 1]);
    const double depth = sill - invert;
    if (depth > 1e-4) {
      if (!in_belly) result.push_back({run.name, foot_station + total - from_head, 0, 0, 0});
      in_belly = true;
      Belly& belly = result.back();
      belly.to = foot_station + total - from_head;
      belly.depth = std::max(belly.depth, depth);
      belly.volume += drain::wetted_area(run.pipe.diameter, depth) * step;
    } else {
      in_belly = false;
      sill = std::max(sill, invert);
    }
  }
  // What no rod can tell from a pipe that is right, and what has no length, holds no silt.
  result.erase(std::remove_if(result.begin(), result.end(),
                              [&](const Belly& belly) {
                                return belly.depth <= least_belly || belly.to - belly.from <= 1.5 * step;
                              }),
               result.end());
  return result;
}

} // namespace

std::vector<DugReading> read_dug(const CsvTable& table, const CutSheet& sheet, const DugUnits& units) {
  const DugTable reader(table, sheet, units);
  std::vector<DugReading> readings;
  for (const CsvRow& row : table.rows) readings.push_back(reader.read(row));
  for (std::size_t k = 0; k < readings.size(); ++k)
    for (std::size_t m = 0; m < k; ++m)
      if (readings[m].run == readings[k].run && std::abs(readings[m].station - readings[k].station) < 1e-6)
        throw InputError({table.file, readings[k].line, "station"},
                         "a second reading at the station of line " + std::to_string(readings[m].line),
                         "one reading a station and run", "keep the later one");
  return readings;
}

std::vector<DugCheck> check_dug(const std::vector<DugReading>& readings, const CutSheet& sheet,
                                double tolerance) {
  std::vector<DugCheck> checks;
  for (const DugReading& reading : readings) {
    const CutRun* run = run_called(sheet, reading.run);
    if (!run) continue;
    DugCheck check{reading, wanted_bottom(*run, reading.station)};
    check.too_high = reading.bottom - check.wanted;
    // Rounding of the readings themselves must not turn a good station into a bad one.
    const double slack = tolerance + 1e-6;
    if (check.too_high > slack) check.answer = DugAnswer::dig_more;
    if (check.too_high < -slack) check.answer = DugAnswer::fill;
    checks.push_back(check);
  }
  return checks;
}

AsDug lay_as_dug(const site::Design& design, const CutSheet& sheet, const std::vector<DugReading>& readings) {
  AsDug result;
  result.design = design;
  result.design.as_dug = true;
  for (site::Run& run : result.design.runs) {
    const CutRun* cut = run_called(sheet, run.name);
    if (!cut) continue;
    const std::vector<DugReading> own = readings_of(readings, run.name);
    const double total = cut->length, foot = lowest_station(*cut);
    std::vector<double> places; // from the head
    for (const CutStation& station : cut->stations) places.push_back(station.distance);
    for (const DugReading& reading : own)
      places.push_back(std::clamp(total - (reading.station - foot), 0.0, total));
    std::sort(places.begin(), places.end());
    places.erase(std::unique(places.begin(), places.end(), [](double a, double b) { return b - a < 1e-6; }),
                 places.end());
    const Polyline path = run.path;
    run.path.clear();
    run.inverts.clear();
    for (const double place : places) {
      const double station = foot + total - place;
      run.path.push_back(point_along(path, place));
      run.inverts.push_back(wanted_bottom(*cut, station) + too_high_at(own, *cut, station) + cut->bedding);
    }
  }
  Sills sills(result.design);
  for (const site::Run& run : result.design.runs)
    if (const CutRun* cut = run_called(sheet, run.name)) {
      const std::vector<Belly> found = bellies_of(run, lowest_station(*cut), sills.beyond(run.to));
      result.bellies.insert(result.bellies.end(), found.begin(), found.end());
    }
  std::sort(result.bellies.begin(), result.bellies.end(),
            [](const Belly& a, const Belly& b) { return a.depth > b.depth; });
  return result;
}

} // namespace lowspot::job
