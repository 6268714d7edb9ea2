// How wet and how dry beds get, and why: areas that name their plants.
#pragma once
#include <string>
#include <utility>
#include <vector>

#include <lowspot/results/record.hpp>
#include <lowspot/yard/yard.hpp>

namespace lowspot::results {

// Follows the beds of one run.
class BedRecorder {
public:
  // Budgets run from the present state of the yard.
  explicit BedRecorder(const yard::Yard& yard);
  void step(const yard::Yard& yard, double dt);
  // Column name and value now, for hydrographs.csv: root-zone depletion [m], and water in the root zone above
  // the wilting point as a share of what it holds at field capacity.
  std::vector<std::pair<std::string, double>> series(const yard::Yard& yard) const;
  std::vector<BedRecord> finish(const yard::Yard& yard) const;

private:
  struct Bed {
    std::vector<int> cells;
    std::vector<double> areas; // m2
    double total = 0;
    double spell = 0; // h, of soggy roots up to now
    BedBudget at_start;
  };
  double mean_depletion(const yard::Yard& yard, const Bed& bed) const; // m
  std::vector<Bed> beds_;
  std::vector<BedRecord> records_;
};

// Watches beds alone: a dry spell needs no maps.
class BedWatch : public yard::Observer {
public:
  explicit BedWatch(BedRecorder& beds) : beds_(beds) {}
  // Hands every step to the recorder.
  void step_done(const yard::Yard& yard, const yard::StepFlows& flows) override {
    beds_.step(yard, flows.dt);
  }

private:
  BedRecorder& beds_;
};

// Mean water content of each cell's root zone now [m3/m3].
std::vector<float> root_moisture(const yard::Yard& yard);

} // namespace lowspot::results
