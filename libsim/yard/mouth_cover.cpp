#include <lowspot/yard/mouth_cover.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <utility>

#include <lowspot/drain/mouth.hpp>
#include <lowspot/yard/roofs.hpp>

namespace lowspot::yard {
namespace {

// Water this far around feeds a grate within one step [m2]; it only paces how fast the intake is found.
constexpr double feeding_area = 0.1;
constexpr double wet = 1e-3;      // m
constexpr double step = 0.0254;   // m, an inch: more is an edge that a grate is meant to be inside of
constexpr double steep = 1.0 / 3; // m/m, of a bank within one cover that is no step

// Whether water that stands on `here` could lie on `there`, a cell beside it, without a fall: no wall between
// them, and no edge of a slab or bed that is a step.
bool is_level_way(const terrain::Ground& ground, std::size_t here, std::size_t there, double crest) {
  const double higher = std::max(ground.elevation[here], ground.elevation[there]);
  const double down = ground.elevation[here] - ground.elevation[there];
  const bool same = ground.cover[here] == ground.cover[there];
  return crest <= higher && down <= (same ? std::max(step, steep * ground.grid.cell) : step);
}

// The cells around one that a grate set there may have been meant for: those it can be reached from by way of
// a side. `visit` is called with each.
void around(const terrain::Ground& ground, int middle, const std::function<void(int)>& visit) {
  const Grid& grid = ground.grid;
  const auto next = [&](int from, int di, int dj) {
    const int i = grid.column(from) + di, j = grid.row(from) + dj;
    if (from < 0 || !grid.inside(i, j) || !ground.active[grid.index(i, j)]) return -1;
    const double crest = di != 0 ? ground.crest_x[grid.x_face(std::max(i, i - di), j)]
                                 : ground.crest_y[grid.y_face(i, std::max(j, j - dj))];
    const std::size_t to = grid.index(i, j);
    return is_level_way(ground, from, to, crest) ? static_cast<int>(to) : -1;
  };
  for (const int side : {-1, 1}) {
    const int beside = next(middle, side, 0), above = next(middle, 0, side);
    if (beside >= 0) visit(beside);
    if (above >= 0) visit(above);
    for (const int other : {-1, 1}) { // the corners, by either way
      const int corner = beside >= 0 ? next(beside, 0, other) : -1;
      if (corner >= 0) visit(corner);
      const int turned = above >= 0 ? next(above, other, 0) : -1;
      if (turned >= 0) visit(turned);
    }
  }
}

// Under `least` [m] no rim can lie.
int lowest_cell_near(const terrain::Ground& ground, const Point& at, double least, const std::string& what) {
  const int middle = nearest_active_cell(ground, at, what);
  int best = middle;
  around(ground, middle, [&](int cell) {
    const double level = ground.elevation[cell];
    const bool lower = level < ground.elevation[best] - 1e-9;
    // Of cells as low as each other the first of the grid, whatever the way to it.
    if (level > least && (lower || (best != middle && level < ground.elevation[best] + 1e-9 && cell < best)))
      best = cell;
  });
  return best;
}

// The cell that a place of a gutter lies in. On the side between two it is set in what sheds onto it, a slab
// rather than the ground beside it, and of the same in the lower one, whatever way the yard is turned.
int gutter_cell(const terrain::Ground& ground, const Point& at, const std::string& what) {
  const Grid& grid = ground.grid;
  int best = nearest_active_cell(ground, at, what);
  const auto gap = [&](int cell) {
    return distance({grid.x(grid.column(cell)), grid.y(grid.row(cell))}, at);
  };
  const auto open = [&](int cell) { return ground.pervious.empty() ? 0.0 : ground.pervious[cell]; };
  const double nearest = gap(best) + 1e-6 * grid.cell;
  const int column = grid.column(best), row = grid.row(best);
  for (int j = row - 1; j <= row + 1; ++j)
    for (int i = column - 1; i <= column + 1; ++i) {
      if (!grid.inside(i, j) || !ground.active[grid.index(i, j)]) continue;
      const int cell = static_cast<int>(grid.index(i, j));
      if (gap(cell) > nearest) continue;
      const double more_open = open(cell) - open(best);
      if (more_open < -1e-9 || (more_open < 1e-9 && ground.elevation[cell] < ground.elevation[best] - 1e-9))
        best = cell;
    }
  return best;
}

MouthCover cover_of(const terrain::Ground& ground, const drain::Mouth& mouth, double least,
                    const std::string& what) {
  MouthCover cover;
  if (mouth.along.size() < 2) {
    // A grate goes where the water is; a gutter's foot and a lid stay where they stand.
    cover.cells = {mouth.takes_in ? lowest_cell_near(ground, mouth.along.front(), least, what)
                                  : nearest_active_cell(ground, mouth.along.front(), what)};
    cover.shares = {1};
  } else {
    const double whole = length(mouth.along);
    const int samples = std::max(4, static_cast<int>(std::ceil(4 * whole / ground.grid.cell)));
    for (int k = 0; k < samples; ++k) {
      const int cell = gutter_cell(ground, point_along(mouth.along, whole * (k + 0.5) / samples), what);
      const auto known = std::find(cover.cells.begin(), cover.cells.end(), cell);
      if (known == cover.cells.end()) {
        cover.cells.push_back(cell);
        cover.shares.push_back(0);
      }
      cover.shares[std::find(cover.cells.begin(), cover.cells.end(), cell) - cover.cells.begin()] +=
          1.0 / samples;
    }
  }
  cover.offered.assign(cover.cells.size(), 0.0);
  cover.taken.assign(cover.cells.size(), 0.0);
  return cover;
}

double lowest_ground(const terrain::Ground& ground, const MouthCover& cover) {
  double lowest = ground.elevation[cover.cells.front()];
  for (int cell : cover.cells) lowest = std::min(lowest, ground.elevation[cell]);
  return lowest;
}

// What runs onto a cell over its sides [m3/s] when the ground falls away on another side, below the water
// there; nothing in a pool.
double running_onto(const terrain::Ground& ground, const surface::Flow& flow, int cell) {
  const Grid& grid = ground.grid;
  const int i = grid.column(cell), j = grid.row(cell);
  const auto qx = flow.discharge_x(), qy = flow.discharge_y();
  const std::span<const double> depth = flow.depth();
  double sum = 0;
  bool falls_away = false;
  const auto beside = [&](int di, int dj, double inward) {
    sum += std::max(0.0, inward) * grid.cell;
    if (!grid.inside(i + di, j + dj)) return;
    const std::size_t other = grid.index(i + di, j + dj);
    if (ground.active[other] && ground.elevation[other] + depth[other] < ground.elevation[cell])
      falls_away = true;
  };
  beside(-1, 0, qx[grid.x_face(i, j)]);
  beside(1, 0, -qx[grid.x_face(i + 1, j)]);
  beside(0, -1, qy[grid.y_face(i, j)]);
  beside(0, 1, -qy[grid.y_face(i, j + 1)]);
  return falls_away ? sum : 0;
}

// A rim lower than this would leave the pipe of its box out of the ground: half the pipe over its invert, as
// the box was laid [m].
double least_rim(const drain::Layout& layout, const drain::Fitting& fitting) {
  if (!fitting.link.to.empty()) return fitting.link.invert + 0.5 * fitting.link.height;
  double least = -std::numeric_limits<double>::infinity();
  for (const drain::Run& run : layout.runs)
    if (run.from == fitting.name) least = std::max(least, run.inverts.front() + 0.5 * run.pipe.diameter);
  return least;
}

} // namespace

std::vector<MouthCover> settle_mouths(const terrain::Ground& ground, drain::Layout& layout,
                                      std::vector<std::string>& warnings) {
  std::vector<MouthCover> covers;
  const auto settle = [&](drain::Mouth& mouth, drain::Chamber* chamber, double least,
                          const std::string& what) {
    covers.push_back(cover_of(ground, mouth, least, what));
    mouth.level = lowest_ground(ground, covers.back());
    if (chamber && chamber->area > 0) chamber->top = std::max(mouth.level, chamber->bottom + 0.01);
    if (mouth.takes_in && mouth.level < least)
      warnings.push_back(what + ": in the grid its grate lies at the foot of a step, where the pipe from its "
                                "box would come out of the ground, so that it passes little or nothing; move "
                                "it away from the edge, or deepen the pipe");
  };
  constexpr double none = -std::numeric_limits<double>::infinity();
  for (drain::Fitting& fitting : layout.fittings)
    if (fitting.mouth)
      settle(*fitting.mouth, &fitting.chamber, least_rim(layout, fitting), "'" + fitting.name + "'");
  for (drain::Outlet& outlet : layout.outlets)
    if (outlet.mouth) settle(*outlet.mouth, &outlet.chamber, none, "'" + outlet.name + "'");
  for (drain::Tap& tap : layout.taps) settle(tap.mouth, nullptr, none, "downspout '" + tap.name + "'");
  return covers;
}

void offer_mouths(const drain::Drain& drain, const terrain::Ground& ground, const surface::Flow& flow,
                  std::span<const double> supply, double dt, std::vector<MouthCover>& mouths,
                  std::span<double> capacity) {
  const double cell_area = ground.grid.cell_area();
  const std::span<const double> depth = flow.depth();
  std::vector<drain::MouthWater> water;
  std::vector<std::pair<std::size_t, std::size_t>> parts; // mouth and cell of each
  for (std::size_t m = 0; m < mouths.size(); ++m) {
    MouthCover& cover = mouths[m];
    const drain::Mouth& mouth = drain.mouth(static_cast<int>(m));
    std::fill(cover.offered.begin(), cover.offered.end(), 0.0);
    if (!mouth.takes_in) continue;
    for (std::size_t k = 0; k < cover.cells.size(); ++k) {
      const int cell = cover.cells[k];
      const double arriving = cover.taken[k] + supply[cell] * cell_area, share = cover.shares[k];
      if (depth[cell] <= 0 && arriving <= 0) continue;
      const double width = share * (mouth.along.size() < 2 ? mouth.rim / 4 : mouth.rim / 2);
      const double frontal = std::min(1.0, width / ground.grid.cell) * running_onto(ground, flow, cell);
      water.push_back({static_cast<int>(m), share, ground.elevation[cell], depth[cell], arriving, frontal,
                       std::max(cell_area, feeding_area * share)});
      parts.emplace_back(m, k);
    }
  }
  std::vector<double> offered(water.size());
  drain.mouth_capacity(water, dt, offered);
  for (std::size_t n = 0; n < water.size(); ++n) {
    const auto [m, k] = parts[n];
    mouths[m].offered[k] = offered[n];
    capacity[mouths[m].cells[k]] += offered[n] / cell_area;
  }
}

bool mouths_are_wet(const drain::Drain& drain, std::span<const double> depth,
                    const std::vector<MouthCover>& mouths) {
  for (std::size_t m = 0; m < mouths.size(); ++m) {
    if (!drain.mouth(static_cast<int>(m)).takes_in) continue;
    for (std::size_t k = 0; k < mouths[m].cells.size(); ++k)
      if (depth[mouths[m].cells[k]] > wet || mouths[m].taken[k] > 1e-6) return true;
  }
  return false;
}

} // namespace lowspot::yard
