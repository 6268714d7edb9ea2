#include <lowspot/drain/elimination.hpp>

#include <algorithm>
#include <cmath>
#include <set>

namespace lowspot::drain {

Elimination::Elimination(int size, const std::vector<std::pair<int, int>>& pairs) {
  std::vector<std::set<int>> rows(size);
  for (int i = 0; i < size; ++i) rows[i].insert(i);
  for (const auto& [a, b] : pairs) {
    rows[a].insert(b);
    rows[b].insert(a);
  }
  // Eliminating k ties together all later unknowns that k is tied to.
  for (int k = 0; k < size; ++k) {
    const std::vector<int> later(rows[k].upper_bound(k), rows[k].end());
    for (int i : later) rows[i].insert(later.begin(), later.end());
  }
  start_.push_back(0);
  for (int i = 0; i < size; ++i) {
    diagonal_.push_back(start_.back() + static_cast<int>(std::distance(rows[i].begin(), rows[i].find(i))));
    columns_.insert(columns_.end(), rows[i].begin(), rows[i].end());
    start_.push_back(static_cast<int>(columns_.size()));
  }
  values_.assign(columns_.size(), 0.0);
  row_.assign(size, 0.0);
}

int Elimination::position(int row, int column) const {
  const auto first = columns_.begin() + start_[row], last = columns_.begin() + start_[row + 1];
  return static_cast<int>(std::lower_bound(first, last, column) - columns_.begin());
}

void Elimination::clear() {
  std::fill(values_.begin(), values_.end(), 0.0);
}

bool Elimination::solve(std::span<double> right) {
  for (int i = 0; i < size(); ++i) {
    for (int e = start_[i]; e < start_[i + 1]; ++e) row_[columns_[e]] = values_[e];
    for (int e = start_[i]; e < diagonal_[i]; ++e) {
      const int k = columns_[e];
      const double factor = row_[k] * values_[diagonal_[k]]; // the inverse of the pivot is kept
      row_[k] = factor;
      if (factor == 0) continue;
      for (int f = diagonal_[k] + 1; f < start_[k + 1]; ++f) row_[columns_[f]] -= factor * values_[f];
      right[i] -= factor * right[k];
    }
    for (int e = start_[i]; e < start_[i + 1]; ++e) values_[e] = row_[columns_[e]];
    const double pivot = values_[diagonal_[i]];
    if (!(std::abs(pivot) > 0) || !std::isfinite(pivot)) return false;
    values_[diagonal_[i]] = 1 / pivot;
  }
  for (int i = size() - 1; i >= 0; --i) {
    double sum = right[i];
    for (int e = diagonal_[i] + 1; e < start_[i + 1]; ++e) sum -= values_[e] * right[columns_[e]];
    right[i] = sum * values_[diagonal_[i]];
  }
  return true;
}

} // namespace lowspot::drain
