#include <lowspot/terrain/ground.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/site/blurred.hpp>
#include <lowspot/site/wording.hpp>
#include <lowspot/terrain/breaklines.hpp>
#include <lowspot/terrain/covers.hpp>
#include <lowspot/terrain/edges.hpp>
#include <lowspot/terrain/falls_to_house.hpp>
#include <lowspot/terrain/floors.hpp>
#include <lowspot/terrain/natural_ground.hpp>
#include <lowspot/terrain/open_sky.hpp>
#include <lowspot/terrain/raster_ground.hpp>
#include <lowspot/terrain/slabs.hpp>
#include <lowspot/terrain/survey_check.hpp>
#include <lowspot/terrain/survey_ground.hpp>
#include <lowspot/terrain/walls.hpp>
#include <lowspot/terrain/ways_down.hpp>
#include <lowspot/terrain/whole_fall.hpp>
#include <lowspot/terrain/yard_grid.hpp>

namespace lowspot::terrain {
namespace {

template <class T>
void append(std::vector<T>& to, const std::vector<T>& more) {
  to.insert(to.end(), more.begin(), more.end());
}

void activate(const std::vector<CellKind>& kinds, const site::Site& site, Ground& ground) {
  ground.active.assign(ground.grid.cells(), 0);
  std::size_t count = 0;
  for (std::size_t c = 0; c < kinds.size(); ++c) {
    ground.active[c] = kinds[c] == CellKind::ground;
    count += ground.active[c];
  }
  if (count == 0)
    throw InputError({site.file.string(), 0, "site.outline"}, "an outline with no open ground in it",
                     "an outline wider than a cell (" + rounded(ground.grid.cell) +
                         " m) and not all under buildings",
                     "check the corners, or choose smaller cells");
}

// Rain falls on whole cells.
void note_area(const site::Site& site, Ground& ground) {
  const Mask inside = centres_inside(ground.grid, site.outline);
  const double computed =
      static_cast<double>(std::count(inside.begin(), inside.end(), 1)) * ground.grid.cell_area();
  const double more = computed / area(site.outline) - 1;
  constexpr double worth_telling = 0.01;
  if (std::abs(more) < worth_telling) return;
  ground.warnings.push_back(
      "The cells of " + site::written(ground.grid.cell, Dimension::length, site) +
      " whose middles lie in the outline make up " + rounded(100 * std::abs(more), 2) + " % " +
      (more > 0 ? "more" : "less") +
      " ground than it encloses, and so does the rain on them: choose smaller cells, or such as divide the "
      "sides of the yard.");
}

LevelBook book_of(const site::Site& site, Ground& ground) {
  LevelBook book;
  if (site.ground.levels.empty()) return book;
  book = read_levels(site);
  append(ground.warnings, book.warnings);
  append(ground.assumptions, book.assumptions);
  return book;
}

void note_datum(const DatumShift& datum, const site::Site& site, Ground& ground) {
  if (datum.shift == 0) return;
  auto shown = [&](double metres) { return rounded(std::abs(metres) / site.unit, 2) + " " + site.units; };
  const std::string side = datum.shift < 0 ? "below" : "above";
  ground.warnings.push_back("Your levels sit " + shown(datum.shift) + " " + side +
                            " the raster (the middle of " + std::to_string(datum.shots) +
                            " points, scatter " + shown(datum.scatter) +
                            "): a different datum, or ground that has changed since. The whole raster is "
                            "moved to your levels.");
  ground.assumptions.push_back({"ground.raster moved to the levels",
                                (datum.shift < 0 ? "down by " : "up by ") + shown(datum.shift), "measured"});
}

// The ground beside a line of two corners far apart would hang in slivers from these to the shots beside it,
// and be another with a corner more on the same line.
constexpr double along_breaklines = 0.3; // m between points that are followed

// Lines of shots and breaklines make swales of any direction; cells must not dam them.
void open_swales(const Survey& survey, const site::Site& site, Ground& ground) {
  const Tin tin = triangulate(survey);
  int hint = 0;
  const auto height = [&](const Point& at) { return interpolate(tin, at, hint).z; };
  const OpenedWays opened = open_ways_down(height, ground.grid, ground.active, ground.elevation);
  if (opened.lowered == 0) return;
  ground.assumptions.push_back({"ground.ways_down",
                                std::to_string(opened.lowered) + (opened.lowered == 1 ? " cell" : " cells") +
                                    " lowered, " + site::written(opened.deepest, Dimension::length, site) +
                                    " at most",
                                "computed"});
}

// Returns the cells for which neither raster nor survey has anything nearer than beyond its limit.
Mask set_elevations(const site::Site& site, Ground& ground) {
  Mask outside(ground.grid.cells(), 0);
  const bool surveyed = !site.ground.levels.empty() || !site.ground.breaklines.empty();
  if (site.ground.raster.empty() && !surveyed)
    throw InputError({site.file.string(), 0, "ground"}, "no ground data", "a raster, levels or breaklines",
                     "name a levels table: levels = \"levels.csv\"");
  const LevelBook book = book_of(site, ground);
  Survey survey;
  if (surveyed) {
    survey = gather_survey(book, site);
    append(ground.warnings, survey.warnings);
  }
  if (site.ground.raster.empty()) {
    if (!book.shots.empty()) append(ground.warnings, suspicious_shots(book, site));
    const Survey followed = densified(survey, along_breaklines);
    ground.elevation = survey_heights(followed, ground.grid, outside);
    open_swales(followed, site, ground);
    return outside;
  }
  const HeightMap map = read_height_map(site, ground.grid, ground.warnings, ground.assumptions);
  ground.elevation =
      heights_on(map, ground.grid, ground.active, outside, ground.assumptions, ground.warnings);
  if (surveyed) {
    const DatumShift datum = datum_shift(survey, map);
    note_datum(datum, site, ground);
    if (!book.shots.empty()) append(ground.warnings, suspicious_shots(book, site, &map));
    const double reach = refine_by_survey(survey, map, datum, ground.grid, ground.elevation);
    if (reach == 0)
      ground.warnings.push_back(
          "The levels change nothing of the raster's shape: fewer than three of them, off one line, lie in "
          "the yard or on the raster.");
    else
      ground.assumptions.push_back(
          {"ground.levels over ground.raster",
           "the shots' differences from the raster are interpolated between them and fade out "
           "over " +
               rounded(reach / site.unit, 2) + " " + site.units + " beyond",
           "default"});
  }
  return outside;
}

void note_outside(const Mask& outside, const site::Site& site, Ground& ground) {
  std::size_t beyond = 0, count = 0;
  for (std::size_t c = 0; c < outside.size(); ++c) {
    count += ground.active[c];
    beyond += ground.active[c] && outside[c];
  }
  ground.outside_hull_share = static_cast<double>(beyond) / static_cast<double>(count);
  if (ground.outside_hull_share > 0.02)
    ground.warnings.push_back(
        rounded(100 * ground.outside_hull_share, 2) + " % of the yard lies outside the " +
        (site.ground.raster.empty() ? "shots" : "raster") + " and is carried on level from their limit; " +
        (site.ground.raster.empty() ? "shoot the corners of the yard." : "low spots there mean nothing."));
}

// Straight between the values of cells 0 to count - 1 at place `at`, counted from the centre of the first.
// Half a cell beyond the last centre, where outlets lie, the ground goes on as it came: by the lesser of its
// last two changes, since one of them may be a step, and level where they do not agree.
template <class ValueOf>
double carried_on(int count, double at, ValueOf value_of) {
  const int before = std::clamp(static_cast<int>(std::floor(at)), 0, std::max(0, count - 2));
  if (count == 1) return value_of(0);
  if (at >= 0 && at <= count - 1)
    return value_of(before) + (at - before) * (value_of(before + 1) - value_of(before));
  const int end = at < 0 ? 0 : count - 1, inward = at < 0 ? 1 : -1;
  const double last = value_of(end) - value_of(end + inward);
  const double one_before = count > 2 ? value_of(end + inward) - value_of(end + 2 * inward) : last;
  const double change = last * one_before <= 0                  ? 0
                        : std::abs(last) < std::abs(one_before) ? last
                                                                : one_before;
  return value_of(end) + std::abs(at - end) * change;
}

// The ground of an active cell carried on by one cell, against the direction in which its neighbours are
// looked at: by the lesser of the last two changes as far as they are ground, level where they do not agree
// [m].
double one_cell_on(const Ground& ground, int i, int j, int step_i, int step_j) {
  const Grid& grid = ground.grid;
  int count = 0;
  while (count < 3 && grid.inside(i + count * step_i, j + count * step_j) &&
         ground.active[grid.index(i + count * step_i, j + count * step_j)])
    ++count;
  return carried_on(count, -1.0, [&](int away) {
    return ground.elevation[grid.index(i + away * step_i, j + away * step_j)];
  });
}

// The ground of a cell; of one beside the yard's ground, beyond the limit or under a building, that ground
// carried on: neither slabs nor the works of a design reach into such cells.
double level_of(const Ground& ground, int i, int j) {
  const Grid& grid = ground.grid;
  const std::size_t cell = grid.index(i, j);
  if (ground.active.empty() || ground.active[cell]) return ground.elevation[cell];
  const auto is_ground = [&](int di, int dj) {
    return grid.inside(i + di, j + dj) && ground.active[grid.index(i + di, j + dj)];
  };
  double sum = 0;
  int count = 0;
  for (const auto& [di, dj] : {std::pair{1, 0}, {-1, 0}, {0, 1}, {0, -1}}) {
    if (!is_ground(di, dj)) continue;
    sum += one_cell_on(ground, i + di, j + dj, di, dj);
    ++count;
  }
  for (const auto& [di, dj] : {std::pair{1, 1}, {-1, 1}, {1, -1}, {-1, -1}}) { // over a corner
    if (is_ground(di, 0) || is_ground(0, dj) || !is_ground(di, dj)) continue;
    sum += one_cell_on(ground, i + di, j + dj, di, 0) + one_cell_on(ground, i + di, j + dj, 0, dj) -
           ground.elevation[grid.index(i + di, j + dj)];
    ++count;
  }
  return count > 0 ? sum / count : ground.elevation[cell];
}

} // namespace

Ground build_ground(const site::Site& site, double wanted_cell) {
  Ground ground;
  const double cell = choose_cell(site, wanted_cell, ground.assumptions);
  const std::string blurred = cell > site.cell ? site::blurred_words(site, cell) : "";
  if (!blurred.empty()) ground.warnings.push_back("a cell of " + blurred);
  ground.grid = make_grid(site, cell);
  const std::vector<CellKind> kinds = cell_kinds(ground.grid, site);
  activate(kinds, site, ground);
  note_area(site, ground);
  const Mask outside = set_elevations(site, ground);
  warn_of_whole_fall(site, ground);
  lay_slabs(site, ground);
  find_natural_ground(site, ground);
  note_outside(outside, site, ground);
  lay_covers(site, ground);
  ground.open_sky = open_sky(ground, kinds);
  raise_walls(site, ground);
  ground.edges = find_edges(site, ground.grid, kinds);
  warn_of_falls_to_house(site, ground);
  warn_of_floors(site, ground);
  return ground;
}

double elevation_at(const Ground& ground, const Point& at) {
  const Grid& grid = ground.grid;
  const double u = std::clamp((at.x - grid.x0) / grid.cell, 0.0, static_cast<double>(grid.nx)) - 0.5;
  const double v = std::clamp((at.y - grid.y0) / grid.cell, 0.0, static_cast<double>(grid.ny)) - 0.5;
  const auto in_row = [&](int j) {
    return carried_on(grid.nx, u, [&](int i) { return level_of(ground, i, j); });
  };
  return carried_on(grid.ny, v, in_row);
}

} // namespace lowspot::terrain
