// Direct solution of the network's linear system: elimination in the given order, fill planned once.
#pragma once
#include <span>
#include <utility>
#include <vector>

namespace lowspot::drain {

// A square sparse matrix of symmetric pattern that is factored many times. No pivoting: the matrix must be
// dominated by its diagonal by columns, as an implicit water balance is. With unknowns in order along the
// runs and shared places last, fill and cost are proportional to the number of unknowns.
class Elimination {
public:
  // pairs: off-diagonal places (row, column); each stands for its mirror too.
  Elimination(int size, const std::vector<std::pair<int, int>>& pairs);
  int size() const { return static_cast<int>(diagonal_.size()); }
  // Index in values() of an entry that was named, or of the diagonal.
  int position(int row, int column) const;
  std::span<double> values() { return values_; }
  void clear();
  // Overwrites values() by the factors and `right` [size] by the solution. False when a pivot vanishes.
  bool solve(std::span<double> right);

private:
  std::vector<int> start_;    // of each row in columns_ [size + 1]
  std::vector<int> columns_;  // ascending in a row, fill included
  std::vector<int> diagonal_; // index of the diagonal entry of each row
  std::vector<double> values_;
  std::vector<double> row_; // one row, spread out
};

} // namespace lowspot::drain
