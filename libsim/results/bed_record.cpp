#include <lowspot/results/bed_record.hpp>

#include <algorithm>

#include <lowspot/results/soggy.hpp>
#include <lowspot/site/wet_feet.hpp>

namespace lowspot::results {
namespace {
constexpr double hour = 3600, day = 86400;

// Means over the cells of a bed [m].
template <class Cells>
BedBudget budget_so_far(const yard::Yard& yard, const Cells& bed) {
  const yard::CellBooks& books = yard.cell_books();
  BedBudget sum;
  for (std::size_t k = 0; k < bed.cells.size(); ++k) {
    const int c = bed.cells[k];
    const double share = bed.areas[k] / bed.total;
    sum.rain += share * books.rain[c];
    sum.run_on += share * (books.infiltrated[c] - books.returned[c] - books.rain[c]);
    sum.lateral += share * books.lateral[c];
    sum.to_drain += share * books.to_drain[c];
    sum.drunk += share * books.drunk[c];
    sum.leaked += share * books.leaked[c];
    sum.change += share * (soil::water_above(yard.columns(), c, yard.saturated()[c]) +
                           soil::water_saturated(yard.columns(), c, yard.saturated()[c]));
  }
  return sum;
}

BedBudget difference(const BedBudget& now, const BedBudget& before) {
  return {now.rain - before.rain,         now.run_on - before.run_on, now.lateral - before.lateral,
          now.to_drain - before.to_drain, now.drunk - before.drunk,   now.leaked - before.leaked,
          now.change - before.change};
}

// Water above the wilting point as a share of what the root zone holds between it and field capacity; more
// than 1 where it is wetter than that.
double available_share(const soil::Columns& columns, int cell, double saturated) {
  const soil::Parameters& soil = columns.kinds[columns.kind[cell]];
  const double content = soil.porosity - soil::air_filled(columns, cell, saturated);
  return (content - soil.wilting_point) / (soil.field_capacity - soil.wilting_point);
}
} // namespace

BedRecorder::BedRecorder(const yard::Yard& yard) {
  const site::Site& site = yard.site();
  const terrain::Ground& ground = yard.ground();
  const soil::Columns& columns = yard.columns();
  for (std::size_t a = 0; a < site.areas.size(); ++a) {
    if (!site.areas[a].plants) continue;
    Bed bed;
    BedRecord record;
    record.name = site.areas[a].name;
    record.plants = site.areas[a].plants->kind;
    const site::HoursLimit limit = site::wet_feet_limit(*site.areas[a].plants, site.storm.daily_high);
    record.wet_feet_low_hours = limit.low / hour;
    record.wet_feet_high_hours = limit.high / hour;
    const terrain::Coverage& coverage = ground.areas[a];
    for (std::size_t k = 0; k < coverage.cells.size(); ++k) {
      const int cell = coverage.cells[k];
      if (!ground.active[cell] || soil::available_capacity(columns, cell) <= 0) continue;
      bed.cells.push_back(cell);
      bed.areas.push_back(coverage.fractions[k] * ground.grid.cell_area());
      bed.total += bed.areas.back();
    }
    if (bed.total > 0) {
      bed.at_start = budget_so_far(yard, bed);
      for (std::size_t k = 0; k < bed.cells.size(); ++k) {
        const soil::Parameters& soil = columns.kinds[columns.kind[bed.cells[k]]];
        record.soggy_share += bed.areas[k] / bed.total * (soil.porosity - least_air - soil.wilting_point) /
                              (soil.field_capacity - soil.wilting_point);
      }
    }
    record.area = bed.total;
    beds_.push_back(bed);
    records_.push_back(record);
  }
}

void BedRecorder::step(const yard::Yard& yard, double dt) {
  const soil::Columns& columns = yard.columns();
  for (std::size_t b = 0; b < beds_.size(); ++b) {
    Bed& bed = beds_[b];
    BedRecord& record = records_[b];
    if (bed.total <= 0) continue;
    double soggy = 0, available = 0;
    for (std::size_t k = 0; k < bed.cells.size(); ++k) {
      const int cell = bed.cells[k];
      const double saturated = yard.saturated()[cell];
      if (yard.sealed()[cell] || soil::air_filled(columns, cell, saturated) < least_air)
        soggy += bed.areas[k];
      const double capacity = soil::available_capacity(columns, cell);
      available += bed.areas[k] * (1 - soil::depletion(columns, cell, saturated) / capacity);
    }
    const double fraction = std::max(0.0, available / bed.total);
    record.soggy_hours += dt / hour * soggy / bed.total;
    bed.spell = soggy >= 0.5 * bed.total ? bed.spell + dt / hour : 0;
    record.longest_soggy_hours = std::max(record.longest_soggy_hours, bed.spell);
    record.still_soggy = soggy >= soggy_share * bed.total;
    record.spell_open = bed.spell > 0 && bed.spell >= record.longest_soggy_hours;
    if (fraction < thirsty_share) record.days_below_half_available_water += dt / day;
    record.lowest_available_fraction = std::min(record.lowest_available_fraction, fraction);
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
  for (std::size_t b = 0; b < beds_.size(); ++b) {
    const Bed& bed = beds_[b];
    result.emplace_back("bed:" + records_[b].name + ":depletion_m", mean_depletion(yard, bed));
    double share = 0;
    for (std::size_t k = 0; k < bed.cells.size(); ++k)
      share += bed.areas[k] / bed.total *
               available_share(yard.columns(), bed.cells[k], yard.saturated()[bed.cells[k]]);
    result.emplace_back("bed:" + records_[b].name + ":available_share", share);
  }
  return result;
}

std::vector<BedRecord> BedRecorder::finish(const yard::Yard& yard) const {
  std::vector<BedRecord> records = records_;
  for (std::size_t b = 0; b < beds_.size(); ++b)
    if (beds_[b].total > 0) records[b].budget = difference(budget_so_far(yard, beds_[b]), beds_[b].at_start);
  return records;
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
