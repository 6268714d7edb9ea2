#include <lowspot/perched/books.hpp>

#include <algorithm>

namespace lowspot::perched {
namespace {

constexpr int proportional_passes = 40;
constexpr double round_off = 1e-14; // of what a cell holds and passes on
constexpr double nothing = 1e-200;  // m: below this, round-off is no longer relative

// What each cell gains before leakage.
void gains(const Balance& b, const Flows& flows, Field& gain) {
  const std::ptrdiff_t stride = b.frame.stride;
  for (std::ptrdiff_t k = b.frame.first(); k < b.frame.last(); ++k)
    gain[k] =
        b.supply[k] - ((flows.east[k] - flows.east[k - 1]) + (flows.north[k] - flows.north[k - stride]));
  for (std::size_t e = 0; e < b.trades.size(); ++e)
    if (b.trades[e].at >= 0) gain[b.trades[e].at] -= flows.traded[e];
  for (std::size_t f = 0; f < b.outflow_at.size(); ++f)
    if (b.outflow_at[f] >= 0) gain[b.outflow_at[f]] -= flows.left[f];
  for (std::size_t f = 0; f < b.upslopes.size(); ++f)
    if (b.upslopes[f].at >= 0) gain[b.upslopes[f].at] += flows.entered[f];
}

// All that leaves each cell sideways [m].
void outgoing(const Balance& b, const Flows& flows, Field& out) {
  const std::ptrdiff_t stride = b.frame.stride;
  for (std::ptrdiff_t k = b.frame.first(); k < b.frame.last(); ++k)
    out[k] = std::max(0.0, flows.east[k]) + std::max(0.0, -flows.east[k - 1]) +
             (std::max(0.0, flows.north[k]) + std::max(0.0, -flows.north[k - stride]));
  for (std::size_t e = 0; e < b.trades.size(); ++e)
    if (b.trades[e].at >= 0) out[b.trades[e].at] += std::max(0.0, flows.traded[e]);
  for (std::size_t f = 0; f < b.outflow_at.size(); ++f)
    if (b.outflow_at[f] >= 0) out[b.outflow_at[f]] += flows.left[f];
}

bool overdrawn(const Balance& b, const Field& gain, const Field& out) {
  for (std::ptrdiff_t k = b.frame.first(); k < b.frame.last(); ++k) {
    const double content = b.falling[k] * b.start[k];
    if (content + gain[k] < -round_off * (content + out[k]) - nothing) return true;
  }
  return false;
}

void scale_flows(const Balance& b, const Field& share, Flows& flows) {
  const std::ptrdiff_t stride = b.frame.stride;
  for (std::ptrdiff_t k = b.frame.first(); k < b.frame.last(); ++k) {
    flows.east[k] *= flows.east[k] > 0 ? share[k] : share[k + 1];
    flows.north[k] *= flows.north[k] > 0 ? share[k] : share[k + stride];
  }
  for (std::size_t e = 0; e < b.trades.size(); ++e)
    if (b.trades[e].at >= 0 && flows.traded[e] > 0) flows.traded[e] *= share[b.trades[e].at];
  for (std::size_t f = 0; f < b.outflow_at.size(); ++f)
    if (b.outflow_at[f] >= 0) flows.left[f] *= share[b.outflow_at[f]];
}

// Cuts the outflows of overdrawn cells to what they hold and receive. A cut starves those downstream, so that
// passes repeat; after some the cells are granted only what they held, which no later cut can spoil.
void cut_overdrafts(const Balance& b, Flows& flows, Field& gain) {
  bool suspect = false; // the common case is cheap: nothing is overdrawn at all
  for (std::ptrdiff_t k = b.frame.first(); k < b.frame.last(); ++k)
    suspect |= b.falling[k] * b.start[k] + gain[k] < 0;
  if (!suspect) return;
  Field out(gain.size(), 0.0), share(gain.size(), 1.0);
  outgoing(b, flows, out);
  const auto most_passes = proportional_passes + b.frame.size(); // each cell is cut at most once after those
  for (std::ptrdiff_t pass = 0; pass < most_passes && overdrawn(b, gain, out); ++pass) {
    std::fill(share.begin(), share.end(), 1.0);
    for (std::ptrdiff_t k = b.frame.first(); k < b.frame.last(); ++k) {
      const double content = b.falling[k] * b.start[k];
      if (content + gain[k] >= 0 || out[k] <= 0) continue;
      const double granted = pass < proportional_passes ? content + gain[k] + out[k] : content + b.supply[k];
      share[k] = std::clamp(granted / out[k], 0.0, 1.0);
    }
    scale_flows(b, share, flows);
    gains(b, flows, gain);
    outgoing(b, flows, out);
  }
}

} // namespace

void close_books(const Balance& b, const Field& saturated, Flows& flows, Field& leakage, Field& net) {
  gains(b, flows, net);
  cut_overdrafts(b, flows, net);
  for (std::ptrdiff_t k = b.frame.first(); k < b.frame.last(); ++k) {
    const double content = b.falling[k] * b.start[k];
    const double wanted = b.leakage_constant[k] + b.leakage_slope[k] * saturated[k];
    leakage[k] = std::clamp(content + net[k], 0.0, wanted);
    net[k] = std::max(net[k] - leakage[k], -content);
  }
}

} // namespace lowspot::perched
