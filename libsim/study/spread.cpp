#include <lowspot/study/spread.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace lowspot::study {
namespace {

std::vector<std::size_t> order_of(std::span<const double> values) {
  std::vector<std::size_t> order(values.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return values[a] < values[b]; });
  return order;
}

// Inverse of a small symmetric matrix by Gauss-Jordan with pivots; empty when it has none.
std::vector<std::vector<double>> inverse(std::vector<std::vector<double>> a) {
  const std::size_t n = a.size();
  std::vector<std::vector<double>> result(n, std::vector<double>(n, 0.0));
  for (std::size_t k = 0; k < n; ++k) result[k][k] = 1;
  for (std::size_t k = 0; k < n; ++k) {
    std::size_t pivot = k;
    for (std::size_t r = k + 1; r < n; ++r)
      if (std::abs(a[r][k]) > std::abs(a[pivot][k])) pivot = r;
    if (std::abs(a[pivot][k]) < 1e-12) return {};
    std::swap(a[k], a[pivot]);
    std::swap(result[k], result[pivot]);
    const double scale = 1 / a[k][k];
    for (std::size_t c = 0; c < n; ++c) a[k][c] *= scale, result[k][c] *= scale;
    for (std::size_t r = 0; r < n; ++r) {
      const double factor = a[r][k];
      if (r == k || factor == 0) continue;
      for (std::size_t c = 0; c < n; ++c) a[r][c] -= factor * a[k][c], result[r][c] -= factor * result[k][c];
    }
  }
  return result;
}

double weighted_mean(std::span<const double> values, std::span<const double> weights) {
  double sum = 0, total = 0;
  for (std::size_t k = 0; k < values.size(); ++k) sum += weights[k] * values[k], total += weights[k];
  return total > 0 ? sum / total : 0;
}

// Weighted correlations between all columns; a column that does not vary correlates with nothing.
std::vector<std::vector<double>> correlations(const std::vector<std::vector<double>>& columns,
                                              std::span<const double> weights) {
  const std::size_t n = columns.size();
  std::vector<double> mean(n);
  for (std::size_t c = 0; c < n; ++c) mean[c] = weighted_mean(columns[c], weights);
  const auto covariance = [&](std::size_t a, std::size_t b) {
    double sum = 0;
    for (std::size_t k = 0; k < weights.size(); ++k)
      sum += weights[k] * (columns[a][k] - mean[a]) * (columns[b][k] - mean[b]);
    return sum;
  };
  std::vector<std::vector<double>> result(n, std::vector<double>(n, 0.0));
  for (std::size_t a = 0; a < n; ++a)
    for (std::size_t b = 0; b < n; ++b) {
      const double scale = std::sqrt(covariance(a, a) * covariance(b, b));
      result[a][b] = a == b ? 1 : scale > 0 ? covariance(a, b) / scale : 0;
    }
  return result;
}
} // namespace

double weighted_quantile(std::span<const double> values, std::span<const double> weights, double p) {
  const std::vector<std::size_t> order = order_of(values);
  const double total = std::accumulate(weights.begin(), weights.end(), 0.0);
  if (!(total > 0)) return std::numeric_limits<double>::quiet_NaN();
  double below = 0, last_place = 0, last_value = 0;
  bool first = true;
  for (const std::size_t k : order) {
    if (weights[k] <= 0) continue;
    const double place = (below + 0.5 * weights[k]) / total;
    if (place >= p)
      return first || place <= last_place
                 ? values[k]
                 : last_value + (values[k] - last_value) * (p - last_place) / (place - last_place);
    first = false;
    below += weights[k];
    last_place = place;
    last_value = values[k];
  }
  return last_value;
}

bool quantile_is_open(std::span<const double> values, std::span<const char> open,
                      std::span<const double> weights, double p) {
  std::vector<double> longer(values.begin(), values.end());
  const double most = values.empty() ? 0 : *std::max_element(values.begin(), values.end());
  for (std::size_t k = 0; k < longer.size(); ++k)
    if (open[k] != 0) longer[k] = 2 * std::max(most, 1.0);
  return weighted_quantile(longer, weights, p) > weighted_quantile(values, weights, p);
}

std::vector<double> ranks(std::span<const double> values) {
  const std::vector<std::size_t> order = order_of(values);
  std::vector<double> result(values.size());
  for (std::size_t first = 0; first < order.size();) {
    std::size_t past = first;
    while (past < order.size() && values[order[past]] == values[order[first]]) ++past;
    for (std::size_t k = first; k < past; ++k) result[order[k]] = 0.5 * static_cast<double>(first + 1 + past);
    first = past;
  }
  return result;
}

std::vector<InputShare> shares_of_spread(const std::vector<std::vector<double>>& inputs,
                                         std::span<const double> result, std::span<const double> weights) {
  const std::size_t count = inputs.empty() ? 0 : inputs.front().size();
  std::vector<InputShare> shares(count);
  const auto [least, most] = std::minmax_element(result.begin(), result.end());
  if (count == 0 || *least == *most) return shares;
  std::vector<std::vector<double>> columns;
  for (std::size_t c = 0; c < count; ++c) {
    std::vector<double> column;
    for (const std::vector<double>& row : inputs) column.push_back(row[c]);
    columns.push_back(ranks(column));
  }
  columns.push_back(ranks(result));
  const std::vector<std::vector<double>> all = correlations(columns, weights);
  std::vector<std::vector<double>> among(count, std::vector<double>(count));
  for (std::size_t a = 0; a < count; ++a)
    for (std::size_t b = 0; b < count; ++b) among[a][b] = all[a][b];
  const std::vector<std::vector<double>> solved = inverse(among), whole = inverse(all);
  for (std::size_t c = 0; c < count; ++c) {
    double coefficient = 0;
    for (std::size_t b = 0; b < solved.size(); ++b) coefficient += solved[c][b] * all[b][count];
    shares[c].share = solved.empty() ? 0 : std::clamp(coefficient * all[c][count], 0.0, 1.0);
    // A result that the ranks explain wholly has no inverse: its partial correlations are the signs.
    shares[c].partial = whole.empty() ? (coefficient > 0) - (coefficient < 0)
                                      : -whole[c][count] / std::sqrt(whole[c][c] * whole[count][count]);
  }
  return shares;
}

double effective_draws(std::span<const double> weights) {
  double sum = 0, squares = 0;
  for (const double weight : weights) sum += weight, squares += weight * weight;
  return squares > 0 ? sum * sum / squares : 0;
}

} // namespace lowspot::study
