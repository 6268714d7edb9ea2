#include <lowspot/surface/route_rim.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/surface/friction.hpp>
#include <lowspot/surface/workspace.hpp>

namespace lowspot::surface {
namespace {

// Water on the way so many times as deep as over the rim that its friction does not count.
constexpr float deep_way = 1 / 0.3f;
// Cells of the way that are looked at.
constexpr int longest_way = 64;
// A change of what the way takes, as a share of the head, at which Newton's method stops: the next would be about its
// square.
constexpr float lost_converged = 0.01f;

// Lengths as shares of the head over the lowest sill, below the level of the pool, so that single precision
// will do.
struct Face {
  float head;  // over its sill
  float fall;  // to the water beyond
  float slope; // fixed by the ground [m/m]; 0: that of the water surface
  bool along_x;
};

// Discharge per width times n over the faces, at a head of 1 m, and how the sum changes with what is lost on
// the way.
struct Passed {
  std::array<float, 4> faces = {};
  float sum = 0, change = 0;
};

float inverse_fourth_root(float x) {
  return std::sqrt(inverse_root(x));
}

Passed passed_at(std::span<const Face> faces, float lost, float per_cell) {
  Passed result;
  std::array<float, 4> slope = {};
  float along_x = 0, along_y = 0, squared = 0, together = 0;
  for (std::size_t k = 0; k < faces.size(); ++k) {
    if (!(faces[k].head > lost)) break; // by rising sill
    slope[k] = faces[k].slope > 0 ? faces[k].slope : std::max(faces[k].fall - lost, 0.0f) * per_cell;
    float& along = faces[k].along_x ? along_x : along_y;
    along = std::max(along, slope[k]);
  }
  squared = along_x * along_x + along_y * along_y;
  if (!(squared > 0)) return result;
  const float per_root = inverse_fourth_root(squared);
  for (const float s : {along_x, along_y}) together += s;
  for (std::size_t k = 0; k < faces.size(); ++k) {
    if (!(slope[k] > 0)) continue;
    const float h = faces[k].head - lost, inverse = inverse_cube_root(h);
    const float conveyance = h * h * inverse * per_root; // h^(5/3) / |S|^(1/2)
    result.faces[k] = conveyance * slope[k];
    result.sum += result.faces[k];
    result.change -= result.faces[k] * (5.0f / 3) / h;
    if (faces[k].slope > 0) continue;
    result.change -= conveyance * per_cell * std::max(1 - 0.5f * slope[k] * together / squared, 0.0f);
  }
  return result;
}

// The fall along the way, no more than 1, for the square of such a discharge times the length of a cell;
// change: of the fall with that. depths: of the water at the level of the pool, the rim first.
float fall_on_way(std::span<const float> depths, float q, float& change) {
  float fall = 0;
  change = 0;
  for (std::size_t j = depths.size(); j-- > 0;) {
    const float depth = depths[j] - fall;
    if (!(depth > 0)) return 1;
    const float inverse = inverse_cube_root(depth), cube = inverse * inverse * inverse;
    const float per = cube * cube * cube * inverse; // depth^(-10/3)
    change += (10.0f / 3) * q * (per * cube) * change + per;
    fall += q * per;
  }
  return std::min(fall, 1.0f);
}

} // namespace

Spill spill_over(const RouteGraph& graph, RimCell& cell, std::span<const RimFace> faces,
                 std::span<const double> beyond, double level, std::span<double> flows) {
  const double above = level - cell.sill;
  if (!(above > dry_depth)) {
    std::fill(flows.begin(), flows.end(), 0.0);
    return {};
  }
  const double per_head = 1 / above;
  const float cell_length = static_cast<float>(graph.grid.cell * per_head), per_cell = 1 / cell_length;
  const int from = faces.front().from;
  std::array<Face, 4> all;
  for (std::size_t k = 0; k < faces.size(); ++k) {
    const RouteLink& link = faces[k].link;
    all[k] = {static_cast<float>((level - faces[k].sill) * per_head),
              static_cast<float>((level - beyond[k]) * per_head),
              link.to < 0 ? static_cast<float>(link.slope) : 0.0f, link.side < 2};
    flows[k] = 0;
  }
  const std::span<const Face> given(all.data(), faces.size());
  std::array<float, longest_way> depths;
  std::size_t length = 0;
  for (int s = from; graph.descent[s] >= 0 && length < longest_way; s = graph.descent[s]) {
    const float depth = static_cast<float>((level - graph.bed[s]) * per_head);
    if (depth > deep_way) break;
    depths[length++] = depth;
  }
  // What is lost less the fall along the way for what is then passed rises with it: Newton's method, kept
  // between what is known to be too little and too much.
  float low = 0, high = 1, lost = length > 0 ? static_cast<float>(cell.lost) : 0.0f;
  Passed passed = passed_at(given, lost, per_cell);
  for (int k = 0; k < 30 && length > 0; ++k) {
    float change = 0;
    const float fall = fall_on_way({depths.data(), length}, passed.sum * passed.sum * cell_length, change);
    const float misfit = lost - fall;
    (misfit > 0 ? high : low) = lost;
    float next = fall < 1 ? lost - misfit / (1 - 2 * cell_length * change * passed.sum * passed.change)
                          : 0.5f * (low + high);
    if (!(next >= low && next <= high)) next = 0.5f * (low + high);
    const float moved = std::abs(next - lost);
    lost = next;
    passed = passed_at(given, lost, per_cell);
    if (moved <= lost_converged) break;
  }
  cell.lost = static_cast<double>(lost);
  const double thin = graph.roughness_thin[from], plants = graph.vegetation[from];
  const double n_squared =
      above > 0.5 * plants ? roughness_at(above, thin, graph.log_ratio[from], plants) : thin;
  const double inverse = inverse_cube_root(above), power = above * above * inverse; // ^(5/3)
  const double per_n = power / (std::sqrt(n_squared) * graph.grid.cell);
  Spill spill;
  for (std::size_t k = 0; k < faces.size(); ++k) {
    if (!(passed.faces[k] > 0)) continue;
    const double h = above * static_cast<double>(all[k].head);
    const double limit = froude_limit * std::sqrt(gravity * h) * h / graph.grid.cell;
    flows[k] = std::min(static_cast<double>(passed.faces[k]) * per_n, limit);
    spill.flow += flows[k];
    spill.slope += flows[k] * (5.0 / (3.0 * h) +
                               (all[k].slope > 0 ? 0.0 : 0.5 / (above * static_cast<double>(all[k].fall))));
  }
  return spill;
}

} // namespace lowspot::surface
