#include <lowspot/relief/ordered_cells.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace lowspot::relief {
namespace {

struct Record {
  std::uint32_t key;
  std::uint32_t cell;
};

constexpr int digit_bits = 11;
constexpr std::uint32_t digits = 1u << digit_bits;
constexpr int passes = 3; // 33 bits

std::vector<Record> make_records(std::span<const std::uint8_t> active, std::span<const double> elevation) {
  double lowest = std::numeric_limits<double>::infinity(), highest = -lowest;
  std::size_t count = 0;
  for (std::size_t c = 0; c < elevation.size(); ++c) {
    if (!active[c]) continue;
    ++count;
    lowest = std::min(lowest, elevation[c]);
    highest = std::max(highest, elevation[c]);
  }
  const double scale = highest > lowest ? 4294967295.0 / (highest - lowest) : 0.0;
  std::vector<Record> records;
  records.reserve(count);
  for (std::size_t c = 0; c < elevation.size(); ++c)
    if (active[c])
      records.push_back({static_cast<std::uint32_t>(std::min((elevation[c] - lowest) * scale, 4294967295.0)),
                         static_cast<std::uint32_t>(c)});
  return records;
}

void radix_sort(std::vector<Record>& records) {
  std::vector<Record> other(records.size());
  std::array<std::array<std::uint32_t, digits>, passes> starts{};
  for (const Record& record : records)
    for (int pass = 0; pass < passes; ++pass)
      ++starts[pass][(record.key >> (pass * digit_bits)) & (digits - 1)];
  for (auto& start : starts) {
    std::uint32_t sum = 0;
    for (std::uint32_t& count : start) {
      const std::uint32_t here = count;
      count = sum;
      sum += here;
    }
  }
  for (int pass = 0; pass < passes; ++pass) {
    for (const Record& record : records)
      other[starts[pass][(record.key >> (pass * digit_bits)) & (digits - 1)]++] = record;
    records.swap(other);
  }
}

} // namespace

std::vector<int> ordered_cells(std::span<const std::uint8_t> active, std::span<const double> elevation) {
  std::vector<Record> records = make_records(active, elevation);
  radix_sort(records);
  std::vector<int> order;
  order.reserve(records.size());
  for (std::size_t begin = 0; begin < records.size();) {
    std::size_t end = begin;
    while (end < records.size() && records[end].key == records[begin].key)
      order.push_back(static_cast<int>(records[end++].cell));
    // Stable, so that equal ones keep the order of their indices.
    if (end - begin > 1)
      std::stable_sort(order.begin() + static_cast<std::ptrdiff_t>(begin), order.end(),
                       [&](int a, int b) { return elevation[a] < elevation[b]; });
    begin = end;
  }
  return order;
}

} // namespace lowspot::relief
