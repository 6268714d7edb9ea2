// The routed method: water handed downhill cell by cell (kinematic wave with the slope of the water surface)
// between level pools that fill, spill, meet and part. Long steps, about fifteen times cheaper than the
// dynamic method, for screening and for bands over many soils.
#pragma once
#include <memory>
#include <span>

#include <lowspot/surface/route_sweep.hpp>

namespace lowspot::surface {

// The water of one surface by the routed method.
class RoutedFlow {
public:
  // longest_step [s]: of the sweeps while water flows; at rest only the caller's step counts.
  RoutedFlow(const Terrain& terrain, double longest_step);

  // As Flow::advance, for checked arguments; depth [m], taken [m] and left [m3] are overwritten.
  void advance(double dt, std::span<const double> supply, std::span<const double> sink,
               std::span<double> depth, std::span<double> taken, std::span<double> left);
  // As Flow::give; depth is brought up to date.
  double give(int cell, double change, std::span<double> depth);

  bool at_rest() const { return at_rest_; }
  long steps() const { return steps_; }
  // Volume that crossed each face in the last advance() [m3], positive to the east and the north.
  const Field& crossed_x() const { return faces_.x; }
  const Field& crossed_y() const { return faces_.y; }

private:
  void flow(double dt, std::span<const double> supply, std::span<const double> sink, std::span<double> depth,
            std::span<double> taken);
  void rest(double dt, std::span<const double> sink, std::span<double> depth, std::span<double> taken);
  void find_wet();
  void book(double greatest);
  void collect();
  std::shared_ptr<const RouteGraph> graph_; // shared by copies
  RoutedWater water_;
  RoutedPools pools_;
  RouteSlopes slopes_;
  RoutedFaces faces_;
  double longest_step_;
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
