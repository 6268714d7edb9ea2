// The routed method: water handed downhill cell by cell (kinematic wave with the slope of the water surface)
// between level pools that fill, spill, meet and part. Long steps, some eight times cheaper than the
// dynamic method, for screening and for bands over many soils.
#pragma once
#include <memory>
#include <span>

#include <lowspot/surface/face_discharges.hpp>
#include <lowspot/surface/route_sweep.hpp>

namespace lowspot::surface {

// The water of one surface by the routed method.
class RoutedFlow {
public:
  // longest_step [s]: of the sweeps while flow changes quickly; up to five times as long while it hardly
  // does, and at rest only the caller's step counts.
  RoutedFlow(const Terrain& terrain, double longest_step);

  // As Flow::advance, for checked arguments; taken [m] comes in as nothing; depth [m] and left [m3] are
  // overwritten.
  void advance(double dt, std::span<const double> supply, std::span<const double> sink,
               std::span<double> depth, std::span<double> taken, std::span<double> left);
  // As Flow::give; depth is brought up to date.
  double give(int cell, double change, std::span<double> depth);

  bool at_rest() const { return at_rest_; }
  long steps() const { return steps_; }
  // Volume that crossed faces of the lines of the terrain in the last advance() [m3], positive to the east
  // and the north. Of other faces: see discharge_x().
  const Field& crossed_x() const { return faces_.x; }
  const Field& crossed_y() const { return faces_.y; }
  // Mean discharge per width over all faces in the last advance() [m2/s], positive to the east and the north,
  // in single precision. Worked out when first asked for; several threads may ask at once.
  std::span<const double> discharge_x() const;
  std::span<const double> discharge_y() const;

private:
  void flow(double dt, std::span<const double> supply, std::span<const double> sink, std::span<double> depth,
            std::span<double> taken);
  void rest(double dt, std::span<const double> sink, std::span<double> depth, std::span<double> taken);
  void update_sections(double dt);
  void find_wet();
  void book(const Swept& swept, double dt);
  void collect();
  bool pass_on_late(double dt);
  void find_discharges(Field& x, Field& y) const;
  std::shared_ptr<const RouteGraph> graph_; // shared by copies
  RoutedWater water_;
  RoutedPools pools_;
  RouteSlopes slopes_;
  RoutedFaces faces_;
  FaceDischarges discharges_;
  double advanced_ = 0; // s: the last advance()
  double longest_step_;
  double next_step_;                      // s: of the sweeps, as flow changed in the last ones
  double passed_ = 0, passed_before_ = 0; // of the last two sweeps: see Swept
  double change_rate_ = 0;                // 1/s, of what all cells together pass on
  double supplied_ = 0;                   // m/s summed over the cells, in the last advance()
  bool at_rest_ = true;
  bool crossed_ = true;  // something went over a face in the last advance()
  std::vector<int> wet_; // slots of packs with water or pools and those they trickle to, when wet_known_
  std::vector<int> wet_packs_;  // those of wet_
  std::vector<char> listed_;    // by slot
  std::vector<char> looked_at_; // by pack: is in wet_packs_
  bool wet_known_ = false;
  long steps_ = 0;
};

} // namespace lowspot::surface
