#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>
#include <utility>

#include <lowspot/perched/balance.hpp>

namespace lowspot::perched {
namespace {

constexpr const char* side_names[] = {"west", "east", "south", "north"};

[[noreturn]] void refuse(const std::string& why) {
  throw std::invalid_argument("perched layer: " + why);
}

// Whether a face lies between two cells that hold water: then it is no limit.
bool within(const Layer& layer, int cell, int side) {
  const Grid& grid = layer.grid;
  const int i = grid.column(cell) + (side == 1) - (side == 0), j = grid.row(cell) + (side == 3) - (side == 2);
  return grid.inside(i, j) && layer.active[cell] && layer.active[grid.index(i, j)];
}

// A face that is given twice would pass its water twice.
template <class Face>
void check_faces(const Layer& layer, const std::vector<Face>& faces, const std::string& kind) {
  const std::size_t cells = layer.grid.cells();
  std::vector<std::pair<int, int>> seen;
  for (const Face& face : faces) {
    if (face.cell < 0 || static_cast<std::size_t>(face.cell) >= cells || face.side < 0 || face.side > 3)
      refuse("an " + kind + " face is not on the grid");
    if (within(layer, face.cell, face.side))
      refuse("the " + kind + " face " + side_names[face.side] + " of cell " + std::to_string(face.cell) +
             " lies between two active cells");
    seen.push_back({face.cell, face.side});
  }
  std::sort(seen.begin(), seen.end());
  const auto twice = std::adjacent_find(seen.begin(), seen.end());
  if (twice != seen.end())
    refuse("the " + kind + " face " + side_names[twice->second] + " of cell " + std::to_string(twice->first) +
           " is given twice");
}

void check_cell(const Layer& layer, std::size_t cell) {
  const std::string where = " of cell " + std::to_string(cell) + " is not ";
  if (!std::isfinite(layer.tight_elevation[cell]))
    refuse("the elevation of the tight layer" + where + "a number");
  const auto check_figure = [&](const Field& field, const char* name) {
    if (!(field[cell] >= 0 && std::isfinite(field[cell]))) refuse(name + where + "a number of 0 or more");
  };
  check_figure(layer.conductivity, "the conductivity");
  check_figure(layer.leakage_conductivity, "the leakage conductivity");
  if (!std::isfinite(layer.thickness[cell])) refuse("the thickness" + where + "a number");
  if (!(layer.leakage_thickness[cell] > 0)) refuse("the leakage thickness" + where + "above zero");
}

void check(const Layer& layer) {
  const std::size_t cells = layer.grid.cells();
  if (!(layer.grid.cell_area() > 0 && std::isfinite(layer.grid.cell_area())))
    refuse("the cells of the grid have no area");
  for (const Field* field : {&layer.tight_elevation, &layer.thickness, &layer.conductivity,
                             &layer.leakage_conductivity, &layer.leakage_thickness})
    if (field->size() != cells) refuse("an array does not fit the grid");
  if (layer.active.size() != cells) refuse("the mask does not fit the grid");
  for (std::size_t cell = 0; cell < cells; ++cell)
    if (layer.active[cell]) check_cell(layer, cell);
  check_faces(layer, layer.outflow_faces, "outflow");
  check_faces(layer, layer.inflow_faces, "inflow");
  for (const OutflowFace& face : layer.outflow_faces)
    if (std::isinf(face.slope)) refuse("the slope at an outflow face is endless");
  for (const InflowFace& face : layer.inflow_faces)
    if (!std::isfinite(face.saturated)) refuse("the thickness at an inflow face is not a number");
}

double harmonic_mean(double a, double b) {
  return a > 0 && b > 0 ? 2 * a * b / (a + b) : 0;
}

void set_faces(std::ptrdiff_t step, const Balance& b, const Field& elevation, const Field& conductivity,
               Field& drop, Field& face_conductivity) {
  for (std::ptrdiff_t k = b.frame.first(); k < b.frame.last(); ++k) {
    if (!b.active[k] || !b.active[k + step]) continue;
    drop[k] = elevation[k] - elevation[k + step];
    face_conductivity[k] = harmonic_mean(conductivity[k], conductivity[k + step]);
  }
}

void close_faces(const Layer& layer, Balance& b) {
  for (const ClosedFace& face : layer.closed_faces) {
    const int low = std::min(face.cell, face.neighbour), high = std::max(face.cell, face.neighbour);
    const bool east = high == low + 1 && layer.grid.column(low) + 1 < layer.grid.nx;
    if (low < 0 || static_cast<std::size_t>(high) >= layer.grid.cells() ||
        (!east && high != low + layer.grid.nx))
      refuse("the closed face between cells " + std::to_string(face.cell) + " and " +
             std::to_string(face.neighbour) + " lies between no neighbours");
    (east ? b.conductivity_east : b.conductivity_north)[framed(b.frame, static_cast<std::size_t>(low))] = 0;
  }
}

// The tight layer goes on beyond the limit at the slope that is given, or else at that from the inner
// neighbour.
void set_outflow(const Layer& layer, const Field& elevation, const Field& conductivity, Balance& b) {
  const std::ptrdiff_t inward[] = {1, -1, b.frame.stride, -b.frame.stride};
  for (const OutflowFace& face : layer.outflow_faces) {
    const std::ptrdiff_t at = framed(b.frame, static_cast<std::size_t>(face.cell));
    const std::ptrdiff_t inner = at + inward[face.side];
    const double from_inner = b.active[at] && b.active[inner] ? elevation[inner] - elevation[at] : 0;
    const double fall = std::isnan(face.slope) ? from_inner : face.slope * layer.grid.cell;
    b.outflow_at.push_back(b.active[at] ? at : -1);
    b.outflow_conductance.push_back(conductivity[at] * std::max(fall, 0.0) / b.cell_area);
  }
}

void set_upslopes(const Layer& layer, const Field& elevation, const Field& conductivity, Balance& b) {
  const std::ptrdiff_t inward[] = {1, -1, b.frame.stride, -b.frame.stride};
  for (const InflowFace& face : layer.inflow_faces) {
    const std::ptrdiff_t at = framed(b.frame, static_cast<std::size_t>(face.cell));
    const std::ptrdiff_t inner = at + inward[face.side];
    const double fall = b.active[at] && b.active[inner] ? elevation[at] - elevation[inner] : 0;
    b.upslopes.push_back({b.active[at] ? at : -1, 2 * conductivity[at], 0.5 * fall,
                          std::clamp(face.saturated, 0.0, b.thickness[at])});
  }
}

} // namespace

Balance make_balance(const Layer& layer) {
  check(layer);
  Balance b;
  b.frame = make_frame(layer.grid.nx, layer.grid.ny);
  b.cell_area = layer.grid.cell_area();
  b.active.assign(b.frame.size(), 0);
  Field elevation(b.frame.size(), 0.0), conductivity = elevation;
  for (Field* field : {&b.thickness, &b.drop_east, &b.drop_north, &b.conductivity_east, &b.conductivity_north,
                       &b.start, &b.rising, &b.falling, &b.supply, &b.leakage_constant, &b.leakage_slope})
    field->assign(b.frame.size(), 0.0);
  for (std::size_t cell = 0; cell < layer.grid.cells(); ++cell) {
    const std::ptrdiff_t k = framed(b.frame, cell);
    if (!layer.active[cell]) continue;
    b.active[k] = 1;
    b.thickness[k] = std::max(0.0, layer.thickness[cell]);
    elevation[k] = layer.tight_elevation[cell];
    conductivity[k] = layer.conductivity[cell];
  }
  set_faces(1, b, elevation, conductivity, b.drop_east, b.conductivity_east);
  set_faces(b.frame.stride, b, elevation, conductivity, b.drop_north, b.conductivity_north);
  close_faces(layer, b);
  set_outflow(layer, elevation, conductivity, b);
  set_upslopes(layer, elevation, conductivity, b);
  return b;
}

} // namespace lowspot::perched
