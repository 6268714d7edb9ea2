#include <lowspot/checks/utilities.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/checks/judge.hpp>
#include <lowspot/job/lines_crossed.hpp>

namespace lowspot::checks {
namespace {
using results::CheckOutcome;
using results::CheckRecord;

const job::CutStation& station_at(const job::CutRun& cut, double distance_along) {
  return *std::min_element(
      cut.stations.begin(), cut.stations.end(), [&](const job::CutStation& a, const job::CutStation& b) {
        return std::abs(a.distance - distance_along) < std::abs(b.distance - distance_along);
      });
}

// Outside diameter that a line of unknown size is taken to have at most [m]: 6 in sewer pipe, 6.625 in
// outside (ASTM D1785, from memory), the widest that serves one house. Mains lie in the street.
constexpr double widest_of_a_house = 0.168275;

// How far the strip to dig by hand goes along a trench on either side of a crossing [m]; not a number without
// the limit.
double half_strip(const site::Site& site, const job::CutRun& cut, double angle) {
  return (limit_value(site, "hand_dig") + 0.5 * cut.width * std::cos(angle)) / std::max(std::sin(angle), 0.1);
}

// "; dig by hand from 12 ft to 16 ft up from the outlet".
std::string hand_dig_strip(const site::Site& site, const job::CutRun& cut, double station, double angle) {
  const double half = half_strip(site, cut, angle);
  if (std::isnan(half)) return "";
  const double foot = cut.stations.front().station;
  return "; dig by hand from " + length_text(std::max(foot, station - half), site) + " to " +
         length_text(std::min(foot + cut.length, station + half), site) + " up from the outlet";
}

// Clear height between the pipe and a line whose top lies at `level` and which is `size` high [m]; 0 where
// they meet.
double clear_height(const job::CutRun& cut, const job::CutStation& at, double level, double size) {
  const double wall = 0.5 * std::max(0.0, cut.outside_diameter - cut.inside_diameter);
  const double top = at.invert + cut.inside_diameter + wall, bottom = at.invert - wall;
  return std::max({0.0, level - size - top, bottom - level});
}

// Under a line of unknown size it passes what would pass under the widest that serves a house, and fails what
// would fail under a wire. Between the two it depends on the line.
void judge_clearance(CheckRecord& record, const site::Site& site, const site::Utility& line, double most,
                     double least, const std::string& where) {
  judge(record, site, "utility_clearance", most, where);
  if (std::isfinite(line.size) || least == most || record.outcome != CheckOutcome::pass) return;
  judge(record, site, "utility_clearance", least, where);
  const std::string assumed = length_text(widest_of_a_house, site);
  if (record.outcome == CheckOutcome::pass) {
    record.found += "; its size is not in the file: taken to be no more than " + assumed + " across";
    return;
  }
  record.outcome = CheckOutcome::unknown;
  record.found = length_text(most, site) + " to its top, less what it is high" + where;
  record.missing = "how high " + line.name + " is from its top to its underside; up to " +
                   length_text(most - limit_value(site, "utility_clearance"), site) +
                   " would do. Expose it by hand at the crossing and measure its outside diameter; put it in "
                   "the file as size";
}

void one_crossing(const site::Site& site, const Works& works, const job::CutRun& cut,
                  const site::Utility& line, const job::Crossing& crossing, std::vector<CheckRecord>& list) {
  const job::CutStation& at = station_at(cut, crossing.distance);
  const double station = cut.stations.front().station + cut.length - crossing.distance;
  CheckRecord record =
      item(site, "utility_clearance", "utility_crossing", "Crossing of " + line.name, cut.name);
  const std::string where = ", " + length_text(station, site) + " up from the outlet" +
                            hand_dig_strip(site, cut, station, crossing.angle);
  if (std::isnan(line.depth)) {
    record.outcome = CheckOutcome::unknown;
    record.found = "crossed" + where;
    record.missing = "how deep " + line.name +
                     " lies: have it marked, then expose it by hand at the crossing and "
                     "measure; put it in the file as depth";
    list.push_back(std::move(record));
    return;
  }
  // It lies where it lies, whatever the design does to the ground over it.
  const double level = terrain::elevation_at(*works.as_is, at.at) - line.depth;
  const bool known = std::isfinite(line.size);
  judge_clearance(record, site, line, clear_height(cut, at, level, known ? line.size : 0),
                  clear_height(cut, at, level, known ? line.size : widest_of_a_house), where);
  if (level > at.bottom) record.found += "; it lies inside the trench and must be held up";
  list.push_back(std::move(record));
}

// A trench that runs within the strip of a utility, what is dug by hand at its crossings left out.
void beside(const site::Site& site, const job::CutRun& cut, const site::Utility& line,
            const std::vector<job::Crossing>& crossed, std::vector<CheckRecord>& list) {
  const double strip = limit_value(site, "hand_dig");
  const auto at_crossing = [&](const job::CutStation& station) {
    return std::any_of(crossed.begin(), crossed.end(), [&](const job::Crossing& crossing) {
      // Half a width more, since the gap is measured from the side of the trench.
      return std::abs(station.distance - crossing.distance) <=
             half_strip(site, cut, crossing.angle) + 0.5 * cut.width;
    });
  };
  const auto gap_at = [&](const Point& at) {
    return std::max(0.0, distance_to(line.path, at) - 0.5 * cut.width);
  };
  const auto within = [&](const Point& at) { return gap_at(at) < strip - 1e-9; };
  // Where the trench leaves the strip between a station within it and the next: what is told must not fall
  // short.
  const auto limit = [&](const job::CutStation& in, const job::CutStation& out) {
    double near = 0, far = 1;
    for (int k = 0; k < 40; ++k) {
      const double share = 0.5 * (near + far);
      (within({in.at.x + share * (out.at.x - in.at.x), in.at.y + share * (out.at.y - in.at.y)}) ? near
                                                                                                : far) =
          share;
    }
    return in.station + far * (out.station - in.station);
  };
  double from = std::numeric_limits<double>::infinity(), to = -from, gap = from;
  for (std::size_t k = 0; k < cut.stations.size(); ++k) {
    const job::CutStation& station = cut.stations[k];
    if (!within(station.at) || at_crossing(station)) continue;
    gap = std::min(gap, gap_at(station.at));
    from = std::min(from, station.station);
    to = std::max(to, station.station);
    for (const std::size_t next : {k - 1, k + 1}) {
      if (next >= cut.stations.size() || within(cut.stations[next].at)) continue; // none before the first
      const double end = limit(station, cut.stations[next]);
      from = std::min(from, end);
      to = std::max(to, end);
    }
  }
  if (!(to >= from)) return;
  CheckRecord record = item(site, "hand_dig", "utility_beside", "Digging beside " + line.name, cut.name);
  judge(record, site, "hand_dig", gap,
        "; dig by hand from " + length_text(from, site) + " to " + length_text(to, site) +
            " up from the outlet");
  list.push_back(std::move(record));
}

// Digging that is no trench, `gap` m from a utility.
void dug_near(const site::Site& site, const std::string& work, const site::Utility& line, double gap,
              const std::string& what, std::vector<CheckRecord>& list) {
  if (!(gap < limit_value(site, "hand_dig") - 1e-9)) return;
  CheckRecord record = item(site, "hand_dig", "utility_beside", "Digging at " + line.name, work);
  judge(record, site, "hand_dig", std::max(0.0, gap),
        gap <= 0             ? ": " + what + " over it"
        : gap < least_length ? ": it touches it"
                             : "");
  record.found += "; move the work, or dig by hand there";
  if (std::isfinite(line.depth)) record.found += ", its top " + length_text(line.depth, site) + " deep";
  list.push_back(std::move(record));
}

// How near digging comes to a utility, which may cross it or lie under its middle [m].
double gap_between(const site::Site& site, const Digging& digging, const site::Utility& line,
                   const Works& works) {
  if (!job::crossings(digging.line, line.path).empty()) return 0;
  const double step = std::max(0.05, 0.5 * works.ground.grid.cell), strip = limit_value(site, "hand_dig");
  const int pieces = std::max(1, static_cast<int>(std::ceil(length(line.path) / step)));
  double gap = std::numeric_limits<double>::infinity();
  for (int k = 0; k <= pieces; ++k)
    gap = std::min(gap, clear_of(works, digging, point_along(line.path, length(line.path) * k / pieces),
                                 std::isnan(strip) ? 0 : strip));
  return gap;
}

} // namespace

void check_utilities(const site::Site& site, const Works& works, std::vector<CheckRecord>& list) {
  const std::vector<Pit> holes = pits(*works.design);
  const std::vector<Digging> shallow = other_digging(*works.design);
  if (works.sheet.runs.empty() && holes.empty() && shallow.empty()) return; // nothing is dug
  if (site.utilities.empty()) {
    CheckRecord record = item(site, "utility_clearance", "utility_crossing", "Utilities in the ground", "");
    record.outcome = CheckOutcome::unknown;
    record.found = "none is in the file";
    record.missing =
        "where pipes and cables lie: have them marked before any digging (811 in the US, two to three "
        "working days ahead; private lines are not marked by it), and give each as [[utility]]";
    list.push_back(std::move(record));
    return;
  }
  const std::size_t before = list.size();
  for (const job::CutRun& cut : works.sheet.runs)
    for (const site::Utility& line : site.utilities) {
      const std::vector<job::Crossing> crossed = job::crossings(works.run(cut).path, line.path);
      for (const job::Crossing& crossing : crossed) one_crossing(site, works, cut, line, crossing, list);
      beside(site, cut, line, crossed, list);
    }
  for (const site::Utility& line : site.utilities) {
    for (const Pit& hole : holes)
      dug_near(site, hole.name, line, distance_to(line.path, hole.at) - hole.radius, "the pit is dug", list);
    for (std::size_t k = 0; k < shallow.size();) {
      // A box and its pipe are one work.
      const std::string& name = shallow[k].name;
      double gap = std::numeric_limits<double>::infinity();
      for (; k < shallow.size() && shallow[k].name == name; ++k)
        gap = std::min(gap, gap_between(site, shallow[k], line, works));
      dug_near(site, name, line, gap, "it is dug", list);
    }
  }
  if (list.size() > before) return;
  CheckRecord record = item(site, "hand_dig", "utility_beside", "Utilities in the ground", "");
  record.outcome = CheckOutcome::pass;
  record.found = "nothing is dug near those in the file; marks are approximate";
  list.push_back(std::move(record));
}

} // namespace lowspot::checks
