// The water balance of every store at given levels, with its slopes: what Newton's method works on.
#pragma once
#include <span>
#include <vector>

#include <lowspot/drain/elimination.hpp>
#include <lowspot/drain/mouth.hpp>
#include <lowspot/drain/network.hpp>

namespace lowspot::drain {

// Flows at given levels [m3/s], each list in the order of the list it belongs to in the network.
struct Flows {
  std::vector<double> slots;        // stone to pipe
  std::vector<double> pipe_reaches; // a to b
  std::vector<double> stone_ties;   // a to b
  std::vector<double> loss;         // stone to depth, per stone store
  std::vector<double> rise;         // stone to the ground, per stone store
  std::vector<double> cap;          // ground to the stone, per stone store
  std::vector<double> entering;     // ground into mouths, one an entry of GroundAhead::grates
  std::vector<double> overflow;     // pipe to the ground where a downspout or inlet enters, per pipe store
  std::vector<double> free_ends;    // out
  std::vector<double> stone_ends;   // out
  std::vector<double> links;        // box to run or fitting
  std::vector<double> mouths;       // out onto the ground
  std::vector<double> soaks;        // chamber to depth, per place
  std::vector<double> pumps;        // out
};

// The ground over a drain that is moved ahead on trial. It gives what the laws of cap and grate let in at the
// level below, besides what StepInput::source says.
struct GroundAhead {
  std::span<const double> cap_most{};   // per station: the most through its cap [m3/s]; empty: no cap gives
  std::span<const MouthWater> grates{}; // what stands on mouths; empty: no mouth gives
  double interval = 0;                  // over which that is drawn down [s]
};

// What holds still during one implicit step. One entry an unknown unless said.
struct StepInput {
  std::span<const double> book;    // volume at the start [m3]
  std::span<const double> source;  // m3/s
  std::span<const double> ponded;  // m, per station
  std::span<const char> open_pipe; // per pipe store: water can rise out at the ground
  std::span<const double> weight;  // per pipe reach: share of the depth gradient that drives flow
  std::span<const double>
      lean;      // per pipe store: depth at its downstream end over that in its middle, less one
  double dt = 0; // s
  std::span<const double> held;      // per place: level that holds an outlet back [m]
  std::span<const double> on_mouths; // m of water on the ground, per mouth
  std::span<const char> pump_runs;   // per pump
  std::span<const double> outside;   // per place: level of the water that stands at an outlet [m]
  std::span<const double> gathered;  // per pipe store: what comes in through its openings [m2/s]
  GroundAhead ground{};              // of a trial
};

// Residuals and slopes of one network, with the memory that they need.
class Balance {
public:
  // Memory of the size that this network needs.
  explicit Balance(const Network& network);
  // residual [unknowns]: volume at these levels - book - dt * (source + net inflow) [m3]; fills the matrix of
  // its slopes when asked, and flows().
  void evaluate(const Network& network, std::span<const double> level, const StepInput& input,
                std::span<double> residual, bool with_slopes);
  const Flows& flows() const { return flows_; }
  // Area and width, per pipe store.
  std::span<const SectionState> sections() const { return sections_; }
  // Depth at the downstream end of each pipe reach [m]: that of the water ahead, or critical where it falls
  // away.
  std::span<const double> depth_ahead() const { return depth_ahead_; }
  Elimination& matrix() { return matrix_; }

private:
  struct Corner {
    int aa = 0, ab = 0, ba = 0, bb = 0;
  };
  void pass(const Exchange2& flow, const Corner& corner, int a, int b);
  void leave(double q, double slope, int unknown);
  void stones(const Network& network);
  void pipes(const Network& network);
  void reaches(const Network& network);
  bool is_fast(double q, int pipe, int section, double depth, const Network& network) const;
  void places(const Network& network);
  void outlets(const Network& network);

  Elimination matrix_;
  Flows flows_;
  std::vector<Corner> slot_corners_, reach_corners_, stone_corners_, link_corners_;
  std::vector<int> diagonal_;
  std::vector<SectionState> sections_; // per pipe store, at the levels being evaluated
  std::vector<double> depth_ahead_;    // likewise, per pipe reach
  // Of the evaluation under way.
  std::span<const double> level_;
  const StepInput* input_ = nullptr;
  std::span<double> residual_;
  bool with_slopes_ = false;
};

// What a run gives at its foot at these flows [m3/s].
double flow_at_foot(const RunFoot& foot, const Flows& flows);

// Volume of a place at a level [m3].
double place_volume(const PlaceStore& place, double level);

} // namespace lowspot::drain
