#include <lowspot/results/bed_record.hpp>

#include <algorithm>

namespace lowspot::results {
namespace {
// Roots run short of oxygen below this share of air (M. B. Kirkham; no universal value exists).
constexpr double least_air = 0.10;
constexpr double hour = 3600, day = 86400;
} // namespace

BedRecorder::BedRecorder(const yard::Yard& yard) {
  const site::Site& site = yard.site();
  const terrain::Ground& ground = yard.ground();
  for (std::size_t a = 0; a < site.areas.size(); ++a) {
    if (!site.areas[a].plants) continue;
    Bed bed;
    const terrain::Coverage& coverage = ground.areas[a];
    for (std::size_t k = 0; k < coverage.cells.size(); ++k) {
      const int cell = coverage.cells[k];
      if (!ground.active[cell] || soil::available_capacity(yard.columns(), cell) <= 0) continue;
      bed.cells.push_back(cell);
      bed.areas.push_back(coverage.fractions[k] * ground.grid.cell_area());
      bed.total += bed.areas.back();
    }
    beds_.push_back(bed);
    records_.push_back({site.areas[a].name, 0, 0, 1});
  }
}

void BedRecorder::step(const yard::Yard& yard, double dt) {
  const soil::Columns& columns = yard.columns();
  for (std::size_t b = 0; b < beds_.size(); ++b) {
    const Bed& bed = beds_[b];
    if (bed.total <= 0) continue;
    double soggy = 0, available = 0;
    for (std::size_t k = 0; k < bed.cells.size(); ++k) {
      const int cell = bed.cells[k];
      if (soil::air_filled(columns, cell, yard.saturated()[cell]) < least_air) soggy += bed.areas[k];
      const double capacity = soil::available_capacity(columns, cell);
      available += bed.areas[k] * (1 - soil::depletion(columns, cell, yard.saturated()[cell]) / capacity);
    }
    const double fraction = std::max(0.0, available / bed.total);
    records_[b].soggy_hours += dt / hour * soggy / bed.total;
    if (fraction < 0.5) records_[b].days_below_half_available_water += dt / day;
    records_[b].lowest_available_fraction = std::min(records_[b].lowest_available_fraction, fraction);
  }
}

double BedRecorder::mean_depletion(const yard::Yard& yard, const Bed& bed) const {
  if (bed.total <= 0) return 0;
  double sum = 0;
  for (std::size_t k = 0; k < bed.cells.size(); ++k)
    sum += bed.areas[k] * soil::depletion(yard.columns(), bed.cells[k], yard.saturated()[bed.cells[k]]);
  return sum / bed.total;
}

std::vector<std::pair<std::string, double>> BedRecorder::series(const yard::Yard& yard) const {
  std::vector<std::pair<std::string, double>> result;
  for (std::size_t b = 0; b < beds_.size(); ++b)
    result.emplace_back("bed:" + records_[b].name + ":depletion_m", mean_depletion(yard, beds_[b]));
  return result;
}

std::vector<float> root_moisture(const yard::Yard& yard) {
  const soil::Columns& columns = yard.columns();
  std::vector<float> content(columns.kind.size(), 0.0f);
  for (std::size_t c = 0; c < content.size(); ++c) {
    if (!yard.ground().active[c]) continue;
    const double porosity = columns.kinds[columns.kind[c]].porosity;
    content[c] = static_cast<float>(porosity - soil::air_filled(columns, c, yard.saturated()[c]));
  }
  return content;
}

} // namespace lowspot::results
