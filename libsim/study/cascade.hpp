// How much rain fills basins that fill and spill into each other.
#pragma once
#include <functional>
#include <vector>

namespace lowspot::study {

// Parts stand before what they become (terrain::NestedBasin, without the places).
struct CascadeBasin {
  double volume = 0;       // when full [m3]
  int parent = -1;         // the basin it becomes part of, -1 for none
  int parts[2] = {-1, -1}; // -1: a single basin
  int spills_to = -1;      // the single basin that takes its spill, -1 for none
};

// Basins and how they feed each other.
class Cascade {
public:
  // Basins refer to each other by their index here.
  explicit Cascade(std::vector<CascadeBasin> basins);

  // What has reached a basin from its own ground and over the sills of others [m3]. own: what has reached
  // each single basin from its own ground. A basin that is full passes on all that comes after; one whose
  // water is asked for is not yet full, so nothing is passed on by it or by what it becomes.
  double arrived(int basin, const std::vector<double>& own) const;

  // The least rain [m] that fills a basin; infinite when `most_rain` does not. own_after(rain) gives what has
  // reached each single basin after that rain: it must not fall with rain. Found by halving, to 1e-12 m.
  double rain_that_fills(int basin, const std::function<const std::vector<double>&(double)>& own_after,
                         double most_rain) const;

  const std::vector<CascadeBasin>& basins() const { return basins_; }

private:
  double arrived_on_path(int basin, const std::vector<double>& own, std::vector<int>& path) const;
  bool is_within(int basin, int outer) const;

  std::vector<CascadeBasin> basins_;
  std::vector<std::vector<int>> sources_; // of a single basin: those that spill to it
};

} // namespace lowspot::study
