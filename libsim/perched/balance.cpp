#include <lowspot/perched/balance.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/perched/laws.hpp>
#include <lowspot/perched/simd.hpp>

namespace lowspot::perched {
namespace {

constexpr double least_porosity = 1e-6; // keeps the system regular where the soil is as good as full

LOWSPOT_PERCHED_CLONES
void face_range(std::ptrdiff_t first, std::ptrdiff_t last, std::ptrdiff_t step, double spreading,
                const double* __restrict conductivity, const double* __restrict drop,
                const double* __restrict saturated, double* __restrict flow, double* __restrict out,
                double* __restrict back) {
  for (std::ptrdiff_t k = first; k < last; ++k) {
    const FaceFlow face = face_flow(saturated[k], saturated[k + step], drop[k]);
    const double scale = conductivity[k] * spreading;
    flow[k] = scale * face.flow;
    out[k] = scale * face.slope_here;
    back[k] = scale * face.slope_there;
  }
}

// A table that has not moved takes the porosity of the way it is about to go.
LOWSPOT_PERCHED_CLONES
void add_storage(std::ptrdiff_t first, std::ptrdiff_t last, const double* __restrict saturated,
                 const double* __restrict start, const double* __restrict rising,
                 const double* __restrict falling, double* __restrict residual, double* __restrict retained) {
  for (std::ptrdiff_t k = first; k < last; ++k) {
    const double change = saturated[k] - start[k];
    const double way = change != 0 ? change : -residual[k];
    const double porosity = std::max(least_porosity, way > 0 ? rising[k] : falling[k]);
    residual[k] += porosity * change;
    retained[k] += porosity;
  }
}

LOWSPOT_PERCHED_CLONES
void sum_flows(std::ptrdiff_t first, std::ptrdiff_t last, std::ptrdiff_t stride,
               const double* __restrict east, const double* __restrict north,
               const double* __restrict leakage_constant, const double* __restrict leakage_slope,
               const double* __restrict supply, const double* __restrict saturated,
               double* __restrict residual, double* __restrict retained) {
  for (std::ptrdiff_t k = first; k < last; ++k) {
    const double lateral = (east[k] - east[k - 1]) + (north[k] - north[k - stride]);
    residual[k] = lateral + leakage_constant[k] + leakage_slope[k] * saturated[k] - supply[k];
    retained[k] = leakage_slope[k];
  }
}

// What enters over the step, and how much less for every metre that the table stands higher.
TradeFlow upslope_flow(const Balance& b, const Upslope& face, double saturated) {
  const FaceFlow through = face_flow(face.saturated, saturated, face.drop);
  const double scale = b.spreading * face.conductivity;
  if (through.flow <= 0) return {0, 0};
  return {scale * through.flow, scale * through.slope_there};
}

void add_local(const Balance& b, const Field& saturated, const Flows& flows, Linearised& system) {
  Field& residual = system.residual;
  Field& retained = system.stencil.retained;
  sum_flows(b.frame.first(), b.frame.last(), b.frame.stride, flows.east.data(), flows.north.data(),
            b.leakage_constant.data(), b.leakage_slope.data(), b.supply.data(), saturated.data(),
            residual.data(), retained.data());
  for (std::size_t e = 0; e < b.trades.size(); ++e) {
    if (b.trades[e].at < 0) continue;
    residual[b.trades[e].at] += flows.traded[e];
    retained[b.trades[e].at] += trade_flow(b.trades[e], saturated[b.trades[e].at]).slope;
  }
  for (std::size_t f = 0; f < b.outflow_at.size(); ++f) {
    if (b.outflow_at[f] < 0) continue;
    residual[b.outflow_at[f]] += flows.left[f];
    retained[b.outflow_at[f]] += b.outflow_conductance[f] * b.dt;
  }
  for (std::size_t f = 0; f < b.upslopes.size(); ++f) {
    if (b.upslopes[f].at < 0) continue;
    residual[b.upslopes[f].at] -= flows.entered[f];
    retained[b.upslopes[f].at] += upslope_flow(b, b.upslopes[f], saturated[b.upslopes[f].at]).slope;
  }
}

// The thickness is 0 where a cell is inactive, so that it is held at one bound or the other.
LOWSPOT_PERCHED_CLONES
void find_free(std::ptrdiff_t first, std::ptrdiff_t last, const double* __restrict thickness,
               const double* __restrict saturated, double* __restrict residual, double* __restrict free) {
  for (std::ptrdiff_t k = first; k < last; ++k) {
    const double above_empty = saturated[k] > 0 ? 1.0 : 0.0;
    const double below_full = saturated[k] < thickness[k] ? 1.0 : 0.0;
    free[k] = residual[k] > 0 ? above_empty : (residual[k] < 0 ? below_full : above_empty * below_full);
    residual[k] *= free[k];
  }
}

// Held cells leave the system; the faces to them become part of what their neighbours retain.
LOWSPOT_PERCHED_CLONES
void fold_cells(std::ptrdiff_t first, std::ptrdiff_t last, std::ptrdiff_t stride,
                const double* __restrict free, const double* __restrict east_out,
                const double* __restrict east_back, const double* __restrict north_out,
                const double* __restrict north_back, double* __restrict retained) {
  for (std::ptrdiff_t k = first; k < last; ++k) {
    const double along_x = (1 - free[k + 1]) * east_out[k] + (1 - free[k - 1]) * east_back[k - 1];
    const double along_y =
        (1 - free[k + stride]) * north_out[k] + (1 - free[k - stride]) * north_back[k - stride];
    retained[k] = free[k] * (retained[k] + (along_x + along_y));
  }
}

LOWSPOT_PERCHED_CLONES
void close_faces(std::ptrdiff_t first, std::ptrdiff_t last, std::ptrdiff_t step,
                 const double* __restrict free, double* __restrict out, double* __restrict back) {
  for (std::ptrdiff_t k = first; k < last; ++k) {
    const double open = free[k] * free[k + step];
    out[k] *= open;
    back[k] *= open;
  }
}

void fold_held(const Balance& b, Linearised& system) {
  Stencil& s = system.stencil;
  const std::ptrdiff_t first = b.frame.first(), last = b.frame.last(), stride = b.frame.stride;
  fold_cells(first, last, stride, system.free.data(), s.east_out.data(), s.east_back.data(),
             s.north_out.data(), s.north_back.data(), s.retained.data());
  close_faces(first, last, 1, system.free.data(), s.east_out.data(), s.east_back.data());
  close_faces(first, last, stride, system.free.data(), s.north_out.data(), s.north_back.data());
}

void compute_local_flows(const Balance& b, const Field& saturated, Flows& flows) {
  for (std::size_t e = 0; e < b.trades.size(); ++e)
    flows.traded[e] = b.trades[e].at < 0 ? 0 : trade_flow(b.trades[e], saturated[b.trades[e].at]).flow;
  for (std::size_t f = 0; f < b.outflow_at.size(); ++f)
    flows.left[f] =
        b.outflow_at[f] < 0 ? 0 : b.outflow_conductance[f] * b.dt * std::max(0.0, saturated[b.outflow_at[f]]);
  for (std::size_t f = 0; f < b.upslopes.size(); ++f)
    flows.entered[f] =
        b.upslopes[f].at < 0 ? 0 : upslope_flow(b, b.upslopes[f], saturated[b.upslopes[f].at]).flow;
}

} // namespace

TradeFlow trade_flow(const Trade& trade, double saturated) {
  const double flow = trade.strength * (0.5 * saturated * saturated - trade.potential);
  if (flow < -trade.available) return {-trade.available, 0};
  return {flow, trade.strength * saturated};
}

Flows make_flows(const Balance& balance) {
  Flows flows;
  flows.east.assign(balance.frame.size(), 0.0);
  flows.north = flows.east;
  flows.left.assign(balance.outflow_at.size(), 0.0);
  flows.entered.assign(balance.upslopes.size(), 0.0);
  return flows;
}

Linearised make_linearised(const Balance& balance) {
  Linearised system;
  system.stencil = make_stencil(balance.frame);
  system.residual.assign(balance.frame.size(), 0.0);
  system.free = system.residual;
  return system;
}

void linearise(const Balance& b, const Field& saturated, Flows& flows, Linearised& system) {
  Stencil& s = system.stencil;
  const std::ptrdiff_t first = b.frame.first(), last = b.frame.last();
  face_range(first, last, 1, b.spreading, b.conductivity_east.data(), b.drop_east.data(), saturated.data(),
             flows.east.data(), s.east_out.data(), s.east_back.data());
  face_range(first, last, b.frame.stride, b.spreading, b.conductivity_north.data(), b.drop_north.data(),
             saturated.data(), flows.north.data(), s.north_out.data(), s.north_back.data());
  compute_local_flows(b, saturated, flows);
  add_local(b, saturated, flows, system);
  add_storage(first, last, saturated.data(), b.start.data(), b.rising.data(), b.falling.data(),
              system.residual.data(), s.retained.data());
  find_free(first, last, b.thickness.data(), saturated.data(), system.residual.data(), system.free.data());
  fold_held(b, system);
  complete(s);
}

} // namespace lowspot::perched
