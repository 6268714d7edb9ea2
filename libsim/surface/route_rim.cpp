#include <lowspot/surface/route_rim.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/surface/route_lanes.hpp>
#include <lowspot/surface/workspace.hpp>

namespace lowspot::surface {
namespace {

static_assert(rim_lanes == lanes);
// Water on the way so many times as deep as over the rim that its friction does not count.
constexpr float deep_way = 1 / 0.3f;
// Cells of the way that are looked at.
constexpr int longest_way = 64;
// A change of what the way takes, as a share of the head, at which Newton's method stops: the next would be
// about its square.
constexpr float lost_converged = 0.01f;
// Stands for the height of a face that is not there [m].
constexpr float no_face = 1e6f;
// Where the water stands as high beyond a face its slope is taken as this [m/m].
constexpr float least_slope = 1e-9f;
// A pool whose water would fall by no more than this over a face lies level from there on [m].
constexpr double level_fall = 5e-5;

using Sides = std::array<Singles, 4>;

LOWSPOT_INLINE Singles sum_of(const Sides& x) { // the same in a mirror
  return (x[0] + x[1]) + (x[2] + x[3]);
}

// Discharge per width times n over the faces of eight cells, at a head of 1 m, and how the sum changes with
// what is lost on the way. Lengths as shares of the head.
struct Passed {
  Sides faces;
  Singles sum, change;
};

// head: over the sills; fall: to the water beyond; slope: see RimBlock.
LOWSPOT_INLINE Passed passed_at(const Sides& head, const Sides& fall, const Sides& slope, Singles lost,
                                Singles per_cell) {
  const Singles nothing = {};
  Sides s;
  for (int k = 0; k < 4; ++k) {
    const Singles surface = larger((fall[k] - lost) * per_cell, nothing);
    s[k] = head[k] > lost ? (slope[k] > nothing ? slope[k] : surface) : nothing;
  }
  const Singles along_x = larger(s[0], s[1]), along_y = larger(s[2], s[3]);
  const Singles squared = larger(along_x * along_x + along_y * along_y, nothing + least_slope * least_slope);
  const Singles per_root = inverse_fourth_root(squared), together = (along_x + along_y) * 0.5f;
  Passed result;
  Sides changes;
  for (int k = 0; k < 4; ++k) {
    const Singles h = larger(head[k] - lost, nothing + 1e-9f), inverse = inverse_cube_root(h);
    const Singles conveyance = h * h * inverse * per_root; // h^(5/3) / |S|^(1/2)
    result.faces[k] = conveyance * s[k];
    // With |S| the slope of the surface shares half of what it gives.
    const Singles with_fall = slope[k] > nothing
                                  ? nothing
                                  : conveyance * per_cell * larger(1.0f - s[k] * together / squared, nothing);
    changes[k] =
        s[k] > nothing ? result.faces[k] * (5.0f / 3) * (inverse * inverse * inverse) + with_fall : nothing;
  }
  result.sum = sum_of(result.faces);
  result.change = nothing - sum_of(changes);
  return result;
}

// 1 / n over eight cells at a depth [m]: see roughness_at().
LOWSPOT_INLINE Singles inverse_n(const RimBlock& block, Singles depth) {
  const Singles thin = load<Singles>(block.inverse_n.data()), shallow = load<Singles>(block.shallow.data());
  if (!any(depth > shallow)) return thin;
  const Singles nothing = {}, part = (1.0f / 3) * (depth / shallow) - 1.0f / 3;
  return thin *
         exponential(smaller(larger(part, nothing), nothing + 1.0f) * load<Singles>(block.log_deep.data()));
}

// The way to each cell, once the pool has risen above it.
void find_way(const RouteGraph& graph, RimBlock& block) {
  block.way.push_back({});
  for (int l = 0; l < lanes; ++l) {
    int length = 0;
    for (int s = block.from[l]; s >= 0 && graph.descent[s] >= 0 && length < longest_way;
         s = graph.descent[s], ++length) {
      if (length == static_cast<int>(block.way.size())) {
        block.way.push_back({});
        block.way.back().fill(no_face);
      }
      block.way[length][l] = static_cast<float>(block.sill[l] - graph.bed[s]);
    }
    if (length == 0) block.way[0][l] = no_face;
  }
}

// The most that passes a wall [m/s], without bound where there is none: at critical depth, or with the head
// of the speed lost over a crest under water (Belanger 1828). A crest counts in full where it stands 4/3 of
// the head above the higher bed, and not at all where a third: as in the dynamic method. h: over the crest;
// fall: to the water beyond [m].
LOWSPOT_INLINE Singles past_wall(Singles wall, Singles h, Singles fall, float per_cell) {
  const Singles nothing = {}, one = nothing + 1.0f;
  const Singles part = smaller(larger(wall / h - 1.0f / 3, nothing + 1e-6f), one);
  const Singles lost = smaller(larger(fall, nothing + 1e-9f), h * (1.0f / 3));
  // The square of a discharge counts as the inverse of a roughness.
  const Singles squared = (static_cast<float>(2 * gravity) * lost) / part;
  return (h - lost) * squared * inverse_root(squared) * per_cell;
}

LOWSPOT_INLINE void spill_block(const RouteGraph& graph, RimBlock& block, double level, Spill& spill) {
  const Singles nothing = {}, one = nothing + 1.0f;
  const Singles head_here =
      singles(Doubles{} + level - load<Doubles>(block.sill.data())); // none where there is no cell
  const Ints wet = head_here > static_cast<float>(dry_depth);
  const Singles head = wet ? head_here : one, per_head = 1.0f / head;
  const float dx = static_cast<float>(graph.grid.cell);
  const Singles cell_length = dx * per_head, per_cell = head / dx;
  Sides heads, falls, slopes;
  for (int k = 0; k < 4; ++k) {
    heads[k] = 1.0f - load<Singles>(block.above[k].data()) * per_head;
    falls[k] = 1.0f + load<Singles>(block.drop[k].data()) * per_head;
    slopes[k] = load<Singles>(block.slope[k].data());
  }
  std::size_t length = 0;
  const Singles deepest = (deep_way - 1) * head;
  while (length < block.way.size() && any(wet & (load<Singles>(block.way[length].data()) <= deepest)))
    ++length;
  // What is lost less the fall along the way for what is then passed rises with it: Newton's method, kept
  // between what is known to be too little and too much.
  Singles low = nothing, high = one, lost = wet ? load<Singles>(block.lost.data()) : nothing;
  Ints going = wet;
  Passed passed = passed_at(heads, falls, slopes, lost, per_cell);
  for (int k = 0; k < 30; ++k) {
    const Singles q = passed.sum * passed.sum * cell_length;
    Singles fall = nothing, change = nothing; // change: of the fall with q
    Ints dry = {};
    for (std::size_t j = length; j-- > 0;) {
      const Singles at_rest = 1.0f + load<Singles>(block.way[j].data()) * per_head, depth = at_rest - fall;
      const Ints counts = at_rest <= deep_way;
      dry |= counts & (depth <= 1e-3f);
      const Singles inverse = inverse_cube_root(larger(depth, nothing + 1e-3f)),
                    cube = inverse * inverse * inverse;
      const Singles per = counts ? cube * cube * cube * inverse : nothing; // depth^(-10/3)
      change += (10.0f / 3) * q * (per * cube) * change + per;
      fall = smaller(fall + q * per, one);
    }
    dry |= fall >= one;
    const Singles misfit = lost - fall;
    const Ints much = (misfit > nothing) & ~dry; // where the way falls dry more is lost
    high = much ? lost : high;
    low = much ? low : lost;
    const Singles newton = lost - misfit / (1.0f - 2.0f * cell_length * change * passed.sum * passed.change);
    const Singles middle = 0.5f * (low + high);
    const Singles next = (dry | ~((newton >= low) & (newton <= high))) ? middle : newton;
    const Singles moved = next > lost ? next - lost : lost - next;
    lost = going ? next : lost;
    going &= moved > lost_converged;
    passed = passed_at(heads, falls, slopes, lost, per_cell);
    if (!any(going)) break;
  }
  store(lost, block.lost.data());
  const Singles power = head * head * inverse_cube_root(head);
  const Singles per_n = power * inverse_n(block, head * (one - lost)) / dx;
  Singles flow = nothing, steepness = nothing;
  for (int k = 0; k < 4; ++k) {
    const Singles h = larger(heads[k], nothing + 1e-6f) * head;
    const float fastest = static_cast<float>(froude_limit * std::sqrt(gravity)) / dx;
    Singles most = fastest * (h * h) * inverse_root(h);
    const Singles wall = load<Singles>(block.wall[k].data());
    if (any(wall > nothing)) most = smaller(most, past_wall(wall, h, falls[k] * head, 1 / dx));
    const Singles over = smaller(passed.faces[k] * per_n, most);
    const Singles here = (wet & (passed.faces[k] > nothing)) ? over : nothing;
    store(here, block.flow[k].data());
    flow += here;
    const Singles with_fall = slopes[k] > nothing ? nothing : 0.5f / larger(falls[k] * head, nothing + 1e-9f);
    steepness += here > nothing ? here * ((5.0f / 3) / h + with_fall) : nothing;
  }
  for (int l = 0; l < lanes; ++l) {
    spill.flow += static_cast<double>(flow[l]);
    spill.slope += static_cast<double>(steepness[l]);
  }
}

} // namespace

std::vector<RimBlock> rim_blocks(const RouteGraph& graph, std::span<const RimFace> faces) {
  std::vector<RimBlock> rim;
  int lane = lanes, from = -1;
  for (std::size_t f = 0; f < faces.size(); ++f) {
    const RimFace& face = faces[f];
    if (face.from != from) {
      from = face.from;
      if (++lane >= lanes) {
        lane = 0;
        rim.emplace_back();
        RimBlock& block = rim.back();
        block.from.fill(-1);
        block.sill.fill(std::numeric_limits<double>::max());
        block.shallow.fill(std::numeric_limits<float>::max());
        for (int k = 0; k < 4; ++k) {
          block.face[k].fill(-1);
          block.above[k].fill(no_face);
        }
      }
      RimBlock& block = rim.back();
      const double plants = graph.vegetation[from];
      const double always = roughness_at(1, graph.roughness_thin[from], graph.log_ratio[from], plants);
      block.from[lane] = from;
      block.sill[lane] = face.sill;
      block.inverse_n[lane] =
          static_cast<float>(plants > 0 ? graph.inverse_n_thin[from] : 1 / std::sqrt(always));
      if (plants > 0) block.shallow[lane] = static_cast<float>(0.5 * plants);
      block.log_deep[lane] = static_cast<float>(-0.5 * graph.log_ratio[from]);
    }
    RimBlock& block = rim.back();
    const int side = face.link.side;
    block.face[side][lane] = static_cast<int>(f);
    block.above[side][lane] = static_cast<float>(face.sill - block.sill[lane]);
    const double inside =
        face.link.to < 0 ? 0 : face.sill - std::max(graph.bed[from], graph.bed[face.link.to]);
    block.wall[side][lane] = static_cast<float>(std::max(face.link.wall, inside));
    if (face.link.to < 0) block.slope[side][lane] = static_cast<float>(face.link.slope);
  }
  return rim;
}

double level_on_margin(const RouteGraph& graph, int slot, double level, double discharge) {
  const double dx = graph.grid.cell;
  // Depth^(10/3) times the fall over the face below a cell, with the roughness there of water so deep [m].
  const auto carried = [&](int s, double h) {
    return discharge * discharge * dx *
           roughness_at(h, graph.roughness_thin[s], graph.log_ratio[s], graph.vegetation[s]);
  };
  const auto power = [](double h) {
    const double inverse = inverse_cube_root(h), square = h * h;
    return square * square * (inverse * inverse);
  };
  std::array<int, longest_way> way;
  int length = 0;
  for (int s = slot; graph.descent[s] >= 0 && length < longest_way; s = graph.descent[s]) {
    const double h = level - graph.bed[s];
    if (h > dry_depth && carried(s, h) < level_fall * power(h)) break;
    way[length++] = s;
  }
  for (int j = length; j-- > 0;) {
    const int s = way[j];
    const double bed = graph.bed[s], most = carried(s, 0), plants = graph.vegetation[s];
    // What is carried rises with the level, ever faster, and plants that bend make it more: Newton's method
    // comes from above, and is held between what is known to be too low and too high where they begin to.
    double low = std::max(level, bed), high = low + std::pow(most, 3.0 / 13), next = high;
    for (int k = 0; k < 30; ++k) {
      const double h = next - bed, p = power(h), fall = next - level, b = carried(s, h);
      const bool bends = h > 0.5 * plants && h < 2 * plants;
      const double bending = bends ? b * graph.log_ratio[s] / (1.5 * plants) : 0;
      const double misfit = p * fall - b;
      (misfit > 0 ? high : low) = next;
      double there = next - misfit / (p * (1 + (10.0 / 3) * fall / h) - bending);
      if (!(there >= low && there <= high)) there = 0.5 * (low + high);
      const double change = std::abs(there - next);
      next = there;
      if (change < 0.2 * level_fall) break;
    }
    level = next;
  }
  return level;
}

LOWSPOT_VECTOR_CLONES Spill spill_over(const RouteGraph& graph, std::vector<RimBlock>& rim, double level) {
  Spill spill;
  for (RimBlock& block : rim) {
    if (!(block.sill.front() < level)) break;
    if (block.way.empty()) find_way(graph, block);
    spill_block(graph, block, level, spill);
    ++spill.blocks;
  }
  return spill;
}

} // namespace lowspot::surface
