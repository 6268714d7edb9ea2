#include <lowspot/job/cut_sheet.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include <lowspot/drain/invert_along.hpp>
#include <lowspot/job/leaders.hpp>
#include <lowspot/job/lines_crossed.hpp>
#include <lowspot/site/combine.hpp>
#include <lowspot/terrain/reshape.hpp>
#include <lowspot/yard/drain_layout.hpp>

namespace lowspot::job {
namespace {

constexpr double hand_room = 0.0762; // m on either side of a pipe laid in backfill
constexpr double hair = 1e-6;        // m: a sum of figures may be this much over a whole one
// Buckets and spades come in whole inches, or in steps of 50 mm.
constexpr double bucket_inch = 0.0254, bucket_step = 0.05; // m
constexpr double slice = 0.05;      // m: volumes are summed over pieces about this long
constexpr double same_place = 1e-3; // m: stations nearer than this are one
// A round station nearer than this to one with a name tells nothing more; a quarter of the spacing at most
// [m].
constexpr double near_a_name = 0.15;

struct Mark {
  double distance;
  std::string note;
};

// What a point of the path between its ends is for the crew; nothing where the trench goes straight on and
// falls as before.
std::string vertex_note(const site::Run& run, const drain::Run& built, std::size_t k) {
  if (bends(run.path, k)) return "bend";
  constexpr double same_fall = 1e-4; // m/m: an eighth of an inch in 100 ft
  const auto fall = [&](std::size_t end) {
    const double apart = distance(run.path[end - 1], run.path[end]);
    return apart > 0 ? (built.inverts[end - 1] - built.inverts[end]) / apart : 0;
  };
  return std::abs(fall(k) - fall(k + 1)) > same_fall ? "fall changes" : "";
}

// Where stations stand along a run, foot first.
std::vector<Mark> marks(const site::Site& site, const site::Run& run, const drain::Run& built,
                        double foot_station, double spacing) {
  const double total = length(run.path);
  std::vector<Mark> result;
  double passed = 0;
  for (std::size_t k = 0; k < run.path.size(); ++k) {
    if (k > 0) passed += distance(run.path[k - 1], run.path[k]);
    std::string note;
    if (k == 0) note = run.from.empty() ? "head" : run.from;
    if (k + 1 == run.path.size()) note = run.to.empty() ? "foot" : run.to;
    if (k > 0 && k + 1 < run.path.size()) note = vertex_note(run, built, k);
    if (!note.empty()) result.push_back({passed, note});
  }
  const auto mark_at = [&](double place) {
    return std::find_if(result.begin(), result.end(),
                        [&](const Mark& mark) { return std::abs(mark.distance - place) < same_place; });
  };
  // Where it must be dug by hand the crew wants to know how deep.
  for (const LineCrossed& line : lines_crossed(site, run.path)) {
    const auto there = mark_at(line.distance);
    if (there == result.end())
      result.push_back({line.distance, "crosses " + line.name});
    else
      there->note += (there->note.find("crosses ") == std::string::npos ? ", crosses " : ", ") + line.name;
  }
  const auto named = static_cast<std::ptrdiff_t>(result.size());
  for (long n = static_cast<long>(std::ceil(foot_station / spacing));; ++n) {
    const double place = total - (static_cast<double>(n) * spacing - foot_station);
    if (place < 0) break;
    if (std::none_of(result.begin(), result.begin() + named, [&](const Mark& mark) {
          return std::abs(mark.distance - place) <
                 std::max(same_place, std::min(near_a_name, 0.25 * spacing));
        }))
      result.push_back({place, ""});
  }
  std::sort(result.begin(), result.end(),
            [](const Mark& a, const Mark& b) { return a.distance > b.distance; });
  return result;
}

void measure(const site::Run& run, const drain::Run& built, const terrain::Ground& ground, CutRun& cut) {
  const double pipe_section = 0.25 * M_PI * cut.outside_diameter * cut.outside_diameter;
  const int pieces = std::max(1, static_cast<int>(std::ceil(cut.length / slice)));
  const double step = cut.length / pieces;
  for (int k = 0; k < pieces; ++k) {
    const double place = (k + 0.5) * step;
    const double level = terrain::elevation_at(ground, point_along(run.path, place));
    const double invert = drain::invert_along(built, place), bottom = invert - cut.bedding;
    cut.deepest = std::max(cut.deepest, level - bottom);
    cut.spoil += std::max(0.0, level - bottom) * cut.width * step;
    if (run.has_trench)
      cut.stone += std::max(0.0, (level - run.cap.depth - bottom) * cut.width - pipe_section) * step;
  }
  // The slices have their middles between head, bends and foot, where it may be deepest.
  double vertex = 0;
  for (std::size_t k = 0; k < run.path.size(); ++k) {
    if (k > 0) vertex += distance(run.path[k - 1], run.path[k]);
    cut.deepest = std::max(cut.deepest, terrain::elevation_at(ground, run.path[k]) -
                                            drain::invert_along(built, vertex) + cut.bedding);
  }
  cut.least_fall = std::numeric_limits<double>::infinity();
  for (std::size_t k = 1; k < run.path.size(); ++k) {
    const double piece = distance(run.path[k - 1], run.path[k]);
    if (piece > 0)
      cut.least_fall = std::min(cut.least_fall, (built.inverts[k - 1] - built.inverts[k]) / piece);
  }
}

} // namespace

bool bends(const Polyline& path, std::size_t vertex) {
  constexpr double straight = 0.0174532925; // rad, a degree: 2 in off in 10 ft
  if (vertex == 0 || vertex + 1 >= path.size()) return false;
  const Point before{path[vertex].x - path[vertex - 1].x, path[vertex].y - path[vertex - 1].y};
  const Point after{path[vertex + 1].x - path[vertex].x, path[vertex + 1].y - path[vertex].y};
  return std::abs(std::atan2(before.x * after.y - before.y * after.x,
                             before.x * after.x + before.y * after.y)) > straight;
}

double dug_width(const site::Site& site, const site::Run& run) {
  if (run.trench_width > 0) return run.trench_width;
  const double step = site.units == "ft" ? bucket_inch : bucket_step;
  return std::ceil((run.pipe.outside_diameter + 2 * hand_room - hair) / step) * step;
}

double below_invert(const site::Run& run) {
  return std::max(run.bedding, 0.5 * std::max(0.0, run.pipe.outside_diameter - run.pipe.diameter));
}

std::vector<double> foot_stations(const site::Design& design) {
  const auto next_of = [&](const site::Run& run) {
    const auto next = std::find_if(design.runs.begin(), design.runs.end(), [&](const site::Run& other) {
      return !run.to.empty() && &other != &run && (other.from == run.to || other.name == run.to);
    });
    return next == design.runs.end() ? nullptr : &*next;
  };
  std::vector<double> result;
  for (const site::Run& run : design.runs) {
    double station = 0;
    // As many steps as there are runs are enough unless they form a loop, which is refused elsewhere.
    std::size_t steps = 0;
    for (const site::Run* next = next_of(run); next && steps < design.runs.size(); ++steps) {
      station += length(next->path);
      next = next_of(*next);
    }
    result.push_back(station);
  }
  return result;
}

CutSheet make_cut_sheet(const site::Site& site, const site::Design& design, const terrain::Ground& as_is,
                        double spacing) {
  const terrain::Ground ground = terrain::ground_of(site, as_is, design);
  const auto ground_at = [&ground](Point at) { return terrain::elevation_at(ground, at); };
  const yard::ResolvedDrain resolved = yard::resolve_drain(site, design, ground_at);
  const std::vector<double> feet = foot_stations(design);
  std::vector<std::size_t> order(design.runs.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return feet[a] < feet[b]; });
  CutSheet sheet;
  sheet.design = design.name;
  sheet.warnings = resolved.warnings;
  const auto stands = [&](const site::Run& run) { // dug in an earlier stage
    return site::stands_already(design, run.name);
  };
  const bool digs = !std::all_of(design.runs.begin(), design.runs.end(), stands);
  if (!ground.earthworks.empty() && digs)
    sheet.warnings.push_back("ground and cuts are those after the ground is shaped; where the trench is dug "
                             "before that, the rod reading holds");
  if (!design.after.empty())
    sheet.warnings.push_back("the works of \"" + design.after +
                             "\" stand already: what they need is in theirs");
  for (const Leader& leader : leaders_of(site, design)) sheet.warnings.push_back(leader_note(leader, site));
  for (const std::size_t r : order) {
    const site::Run& run = design.runs[r];
    if (stands(run)) continue;
    const drain::Run& built = resolved.layout.runs[r];
    CutRun cut;
    cut.name = run.name;
    cut.pipe = run.pipe.name;
    cut.to = run.to;
    cut.width = dug_width(site, run);
    cut.bedding = below_invert(run);
    cut.inside_diameter = run.pipe.diameter;
    cut.outside_diameter = run.pipe.outside_diameter;
    cut.length = length(run.path);
    measure(run, built, ground, cut);
    for (const Mark& mark : marks(site, run, built, feet[r], spacing)) {
      CutStation station;
      station.distance = mark.distance;
      station.station = feet[r] + cut.length - mark.distance;
      station.at = point_along(run.path, mark.distance);
      station.ground = ground_at(station.at);
      station.invert = drain::invert_along(built, mark.distance);
      station.bottom = station.invert - cut.bedding;
      station.note = mark.note;
      cut.stations.push_back(station);
    }
    sheet.runs.push_back(std::move(cut));
  }
  return sheet;
}

} // namespace lowspot::job
