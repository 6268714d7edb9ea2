// Where the water on the ground came from: the share of each source in every cell, carried along with the
// water.
//
// The composition of a cell is mixed with what crosses its faces, upwind of the final discharges summed over
// some hydraulic steps: what leaves has the composition of the cell that gives it (first order, donor cell).
// Where more leaves than was there, the rest has the composition of what came in meanwhile. What soaks in or
// dries up takes every source in proportion, so that it changes no share. Each new share is a mean of old
// ones with weights that are not negative and sum to one: shares stay between 0 and 1, sum to 1, and the
// volume of each source is conserved to round-off.
#pragma once
#include <span>
#include <vector>

#include <lowspot/base/field.hpp>
#include <lowspot/surface/flow.hpp>
#include <lowspot/surface/flushed.hpp>
#include <lowspot/surface/frame.hpp>
#include <lowspot/surface/tiles.hpp>

namespace lowspot::surface {

struct MixingRow;

// Water of one source arriving on a cell [m/s].
struct TagSupply {
  int cell = 0;    // index in the grid
  int tag = 0;     // number of the source
  double rate = 0; // m/s

  bool operator==(const TagSupply&) const = default; // the same water at the same place
};

// Faces through which water is counted by source. For the limits of a place, inward positive, `inside` lists
// its cells, so that what levelling moves over them within a pool counts as well.
struct Gate {
  FaceSet faces;           // counted along their weights
  std::vector<int> inside; // indices in the grid; empty: faces alone
};

// The shares of all sources on one surface.
class Tags {
public:
  // count: number of sources, at least one. What lies on the ground now (depth [m]) is of source `present`.
  Tags(const Terrain& terrain, int count, std::span<const double> depth, int present);

  int count() const { return count_; }
  // The share of a source in the water of each cell, 0..1. The shares of a cell sum to 1; where there has
  // been no water yet, or none now, they mean nothing.
  std::span<const double> share(int tag) const;

  // Sources of what arrives from now on, in any order; several entries may name one cell. In every cell the
  // rates have to sum to the supply that Flow::advance is given.
  void set_supply(const std::vector<TagSupply>& arriving);
  // How often that has changed.
  long supplies() const { return supplies_; }
  // Throws NumericsError when the rates do not sum to `supply` [m/s].
  void check_supply(std::span<const double> supply);

  // Counts by source what crosses each gate from now on, in the direction of its weights and against it.
  void watch(std::vector<Gate> gates);
  double passed(std::size_t gate, int tag) const { return with_[gate * count_ + tag]; }         // m3
  double passed_back(std::size_t gate, int tag) const { return against_[gate * count_ + tag]; } // m3

  // Before hydraulic steps with these tiles.
  void begin(const Tiles& tiles);
  // After one or several of them; supply [m/s], depth at their end [m]. What a cell passed on beyond the
  // water that it had at their start has the composition of what it got in them.
  void step(const PassedWater& passed, std::span<const double> supply, std::span<const double> depth);

  // After a stretch of dt [s] in level pools. pool: the pool of each cell, -1 for none. moved: what each cell
  // got from its pool (negative: gave to it) [m]. supply [m/s]; depth: at the end [m]. What cells give is
  // mixed within the pool, what they keep is not.
  void rest(double dt, std::span<const int> pool, std::span<const double> moved,
            std::span<const double> supply, std::span<const double> depth);

  // A cell was given water at once: its depth rose from `before` to `after` [m]; a fall changes no share.
  void give(int cell, double before, double after, int tag);

private:
  struct Crossing {            // one face of a gate
    std::size_t face = 0;      // in framed arrays
    int behind = 0, ahead = 0; // cells west or south, and east or north of it; -1 beyond the grid
    bool along_x = true;
    double weight = 1;
  };
  struct Part { // a source in a tile: columns from `begin` on, and rows
    int tag = 0, begin = 0, count = 0, begin_j = 0, end_j = 0;
  };
  double* row(std::vector<double>& shares, int tag, int j) {
    return shares.data() + static_cast<std::size_t>(tag) * stride_ + padding_ +
           static_cast<std::size_t>(j) * columns_;
  }
  const double* row(const std::vector<double>& shares, int tag, int j) const {
    return shares.data() + static_cast<std::size_t>(tag) * stride_ + padding_ +
           static_cast<std::size_t>(j) * columns_;
  }
  void count_crossings(const PassedWater& passed);
  void count_levelling(std::span<const int> pool, std::span<const double> moved,
                       std::span<const double> given, std::span<const double> composition);
  void add_supply(int j, double dt);
  void mix_near(int tag, int j, int begin, const MixingRow& weights);
  MixingRow mixing_row(const PassedWater& passed, std::span<const double> supply, const Span& span, int j);
  void take_out_flushed(const PassedWater& passed, std::span<const double> supply, int j);
  void compose_given(std::span<const int> group, std::vector<double>& given);
  void pass_on(const PassedWater& passed);
  void find_near();
  void find_spread();
  void forget_absent();
  bool holds_some(std::size_t at) const;
  Part part_at(std::size_t at) const;
  void hold(int tag, int cell);
  std::size_t tile_of(int tag, int cell) const {
    return (static_cast<std::size_t>(tag) * bands_ + cell / columns_ / Tiles::height) * tile_columns_ +
           cell % columns_ / Tiles::width;
  }
  void normalise();

  int count_ = 0, columns_ = 0, rows_ = 0;
  double cell_size_ = 0;
  std::size_t padding_ = 0, stride_ = 0; // of one source; rows in the south and north that stay 0
  std::vector<double> now_, next_;       // shares, source by source
  Field depth_;                          // m, at the end of the last step
  long supplies_ = 0;
  Field checked_;                        // m/s, the supply that these rates were found to sum to, or empty
  std::vector<TagSupply> given_;         // what arrives, as it was given
  std::vector<TagSupply> arriving_;      // sorted by row
  std::vector<std::size_t> arriving_at_; // where the share of each is
  std::vector<std::size_t> arriving_rows_;
  std::vector<Crossing> crossings_;
  std::vector<std::vector<int>> inside_; // cells of each gate's place
  std::vector<std::size_t> gate_begins_;
  std::vector<double> with_, against_; // m3, one a gate and source
  Grid grid_;
  Frame frame_;
  // Per source and tile: 1 where there is any of it; and there or in a tile beside. Elsewhere its share is 0
  // and stays so through a step.
  int tile_columns_ = 0, bands_ = 0;
  std::vector<char> holds_, near_;
  std::vector<char> changed_;            // per tile: 1 where water may have changed since the last step
  std::vector<std::vector<Span>> spans_; // of these tiles, one list a band
  std::vector<Flushed> flushed_;         // cells of the last step
  std::vector<double> flushed_had_;      // the shares that each had
  FlushedOrder order_;
  std::vector<double> per_total_; // 1/m, of each cell: one over all the water that mixed there
  std::vector<double> keep_, from_west_, from_east_, from_south_, from_north_; // scratch of a row
  int steps_since_normal_ = 0;
};

} // namespace lowspot::surface
