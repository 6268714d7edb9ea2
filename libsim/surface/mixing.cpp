#include <lowspot/surface/mixing.hpp>

#include <cstdint>

#include <lowspot/surface/friction.hpp>

namespace lowspot::surface {
namespace {

inline double positive(double value) {
  return value > 0 ? value : 0.0;
}

// What left a cell [m2].
inline double outflow(const double* west, const double* south, const double* north, int i) {
  return (positive(-west[i]) + positive(west[i + 1])) + (positive(-south[i]) + positive(north[i]));
}

} // namespace

LOWSPOT_VECTOR_CLONES
void weigh_row(const MixingRow& row, double dt, double factor) {
  const double *west = row.west, *south = row.south, *north = row.north, *depth = row.depth,
               *supply = row.supply;
  double *keep = row.keep, *from_west = row.from_west, *from_east = row.from_east,
         *from_south = row.from_south, *from_north = row.from_north, *per_total = row.per_total;
#pragma GCC ivdep
  for (int i = 0; i < row.count; ++i) {
    const double in_west = factor * positive(west[i]), in_east = factor * positive(-west[i + 1]);
    const double in_south = factor * positive(south[i]), in_north = factor * positive(-north[i]);
    const double kept = positive(depth[i] - factor * outflow(west, south, north, i));
    const double total = kept + ((in_west + in_east) + (in_south + in_north)) + supply[i] * dt;
    const bool some = total > no_water;
    const double inverse = some ? 1.0 / total : 0.0;
    keep[i] = some ? kept * inverse : 1.0;
    from_west[i] = in_west * inverse;
    from_east[i] = in_east * inverse;
    from_south[i] = in_south * inverse;
    from_north[i] = in_north * inverse;
    per_total[i] = inverse;
  }
}

LOWSPOT_VECTOR_CLONES
bool has_flushed(const MixingRow& row, double factor) {
  const double *west = row.west, *south = row.south, *north = row.north, *depth = row.depth;
  std::int64_t any = 0;
#pragma GCC ivdep
  for (int i = 0; i < row.count; ++i)
    any |= static_cast<std::int64_t>(factor * outflow(west, south, north, i) > depth[i]);
  return any != 0;
}

LOWSPOT_VECTOR_CLONES
void mix_row(const MixingRow& row, const double* here, const double* south, const double* north,
             double* mixed) {
  const double *keep = row.keep, *from_west = row.from_west, *from_east = row.from_east,
               *from_south = row.from_south, *from_north = row.from_north;
#pragma GCC ivdep
  for (int i = 0; i < row.count; ++i)
    mixed[i] = keep[i] * here[i] + (from_west[i] * here[i - 1] + from_east[i] * here[i + 1]) +
               (from_south[i] * south[i] + from_north[i] * north[i]);
}

} // namespace lowspot::surface
