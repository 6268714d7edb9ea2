#include <algorithm>
#include <stdexcept>

#include <lowspot/perched/balance.hpp>

namespace lowspot::perched {
namespace {

void check(const Layer& layer) {
  const std::size_t cells = layer.grid.cells();
  for (const Field* field : {&layer.tight_elevation, &layer.thickness, &layer.conductivity,
                             &layer.leakage_conductivity, &layer.leakage_thickness})
    if (field->size() != cells) throw std::invalid_argument("perched layer: an array does not fit the grid");
  if (layer.active.size() != cells)
    throw std::invalid_argument("perched layer: the mask does not fit the grid");
  for (std::size_t cell = 0; cell < cells; ++cell)
    if (layer.active[cell] && !(layer.leakage_thickness[cell] > 0))
      throw std::invalid_argument("perched layer: a leakage thickness is not above zero");
  for (const OutflowFace& face : layer.outflow_faces)
    if (face.cell < 0 || static_cast<std::size_t>(face.cell) >= cells || face.side < 0 || face.side > 3)
      throw std::invalid_argument("perched layer: an outflow face is not on the grid");
  for (const InflowFace& face : layer.inflow_faces)
    if (face.cell < 0 || static_cast<std::size_t>(face.cell) >= cells || face.side < 0 || face.side > 3)
      throw std::invalid_argument("perched layer: an inflow face is not on the grid");
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

// The tight layer goes on beyond the limit at the slope it has from the inner neighbour.
void set_outflow(const Layer& layer, const Field& elevation, const Field& conductivity, Balance& b) {
  const std::ptrdiff_t inward[] = {1, -1, b.frame.stride, -b.frame.stride};
  for (const OutflowFace& face : layer.outflow_faces) {
    const std::ptrdiff_t at = framed(b.frame, static_cast<std::size_t>(face.cell));
    const std::ptrdiff_t inner = at + inward[face.side];
    const double fall = b.active[at] && b.active[inner] ? elevation[inner] - elevation[at] : 0;
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
  set_outflow(layer, elevation, conductivity, b);
  set_upslopes(layer, elevation, conductivity, b);
  return b;
}

} // namespace lowspot::perched
