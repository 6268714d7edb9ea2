#include <lowspot/yard/mouth_cover.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/drain/mouth.hpp>
#include <lowspot/yard/roofs.hpp>

namespace lowspot::yard {
namespace {

// Water this far around feeds a grate within one step [m2]; it only paces how fast the intake is found.
constexpr double feeding_area = 0.1;
constexpr double least_head = 5e-3; // m, of a film that falls into a grate
constexpr double wet = 1e-3;        // m

int lowest_cell_near(const terrain::Ground& ground, const Point& at, const std::string& what) {
  const int middle = nearest_active_cell(ground, at, what);
  const Grid& grid = ground.grid;
  const int ci = grid.column(middle), cj = grid.row(middle);
  int best = middle;
  for (int j = cj - 1; j <= cj + 1; ++j)
    for (int i = ci - 1; i <= ci + 1; ++i) {
      if (!grid.inside(i, j) || !ground.active[grid.index(i, j)]) continue;
      const int cell = static_cast<int>(grid.index(i, j));
      if (ground.elevation[cell] < ground.elevation[best] - 1e-9) best = cell;
    }
  return best;
}

MouthCover cover_of(const terrain::Ground& ground, const drain::Mouth& mouth, const std::string& what) {
  MouthCover cover;
  if (mouth.along.size() < 2) {
    // A grate goes where the water is; a gutter's foot and a lid stay where they stand.
    cover.cells = {mouth.takes_in ? lowest_cell_near(ground, mouth.along.front(), what)
                                  : nearest_active_cell(ground, mouth.along.front(), what)};
    cover.shares = {1};
  } else {
    const double whole = length(mouth.along);
    const int samples = std::max(4, static_cast<int>(std::ceil(4 * whole / ground.grid.cell)));
    for (int k = 0; k < samples; ++k) {
      const int cell =
          nearest_active_cell(ground, point_along(mouth.along, whole * (k + 0.5) / samples), what);
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

} // namespace

std::vector<MouthCover> settle_mouths(const terrain::Ground& ground, drain::Layout& layout) {
  std::vector<MouthCover> covers;
  const auto settle = [&](drain::Mouth& mouth, drain::Chamber* chamber, const std::string& what) {
    covers.push_back(cover_of(ground, mouth, what));
    mouth.level = lowest_ground(ground, covers.back());
    if (chamber && chamber->area > 0) chamber->top = std::max(mouth.level, chamber->bottom + 0.01);
  };
  for (drain::Fitting& fitting : layout.fittings)
    if (fitting.mouth) settle(*fitting.mouth, &fitting.chamber, "'" + fitting.name + "'");
  for (drain::Outlet& outlet : layout.outlets)
    if (outlet.mouth) settle(*outlet.mouth, &outlet.chamber, "'" + outlet.name + "'");
  for (drain::Tap& tap : layout.taps) settle(tap.mouth, nullptr, "downspout '" + tap.name + "'");
  return covers;
}

void offer_mouths(const drain::Drain& drain, const terrain::Ground& ground, const surface::Flow& flow,
                  std::span<const double> supply, double dt, std::vector<MouthCover>& mouths,
                  std::span<double> capacity) {
  const double cell_area = ground.grid.cell_area();
  const std::span<const double> depth = flow.depth();
  for (std::size_t m = 0; m < mouths.size(); ++m) {
    MouthCover& cover = mouths[m];
    cover.ponded = 0;
    for (std::size_t k = 0; k < cover.cells.size(); ++k)
      cover.ponded += cover.shares[k] * (depth[cover.cells[k]] + supply[cover.cells[k]] * dt);
    const drain::Mouth& mouth = drain.mouth(static_cast<int>(m));
    if (!mouth.takes_in) continue;
    const double below = drain.mouth_back(static_cast<int>(m)) + mouth.level;
    double sum = 0;
    for (std::size_t k = 0; k < cover.cells.size(); ++k) {
      const int cell = cover.cells[k];
      cover.offered[k] = 0;
      const double arriving = cover.taken[k] + supply[cell] * cell_area;
      if (depth[cell] <= 0 && arriving <= 0) continue;
      drain::Mouth part = mouth;
      part.rim *= cover.shares[k];
      part.area *= cover.shares[k];
      const double back = below - ground.elevation[cell];
      const double area = std::max(cell_area, feeding_area * cover.shares[k]);
      const double width = (mouth.along.size() < 2 ? part.rim / 4 : part.rim / 2);
      double slope = 0;
      const double frontal = std::min(
          std::min(1.0, width / ground.grid.cell) * running_onto(ground, flow, cell),
          drain::mouth_flow(1e9, part.area, std::max(depth[cell], least_head) - std::max(0.0, back), slope));
      const double over = drain::depth_over_mouth(part, depth[cell], std::max(0.0, arriving - frontal) / area,
                                                  back, area, dt);
      cover.offered[k] = frontal + drain::mouth_flow(part.rim, part.area, over - std::max(0.0, back), slope);
      sum += cover.offered[k];
    }
    const double room = drain.mouth_room(static_cast<int>(m), dt);
    for (std::size_t k = 0; k < cover.cells.size(); ++k) {
      if (sum > room) cover.offered[k] *= room / sum;
      capacity[cover.cells[k]] += cover.offered[k] / cell_area;
    }
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
