// How wet and how dry beds get: areas that name their plants.
#pragma once
#include <string>
#include <utility>
#include <vector>

#include <lowspot/results/record.hpp>
#include <lowspot/yard/yard.hpp>

namespace lowspot::results {

class BedRecorder {
public:
  explicit BedRecorder(const yard::Yard& yard);
  void step(const yard::Yard& yard, double dt);
  // Column name and value now, for hydrographs.csv.
  std::vector<std::pair<std::string, double>> series(const yard::Yard& yard) const;
  std::vector<BedRecord> finish() const { return records_; }

private:
  struct Bed {
    std::vector<int> cells;
    std::vector<double> areas; // m2
    double total = 0;
  };
  double mean_depletion(const yard::Yard& yard, const Bed& bed) const; // m
  std::vector<Bed> beds_;
  std::vector<BedRecord> records_;
};

// Mean water content of each cell's root zone now [m3/m3].
std::vector<float> root_moisture(const yard::Yard& yard);

} // namespace lowspot::results
