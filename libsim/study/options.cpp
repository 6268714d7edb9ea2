#include <lowspot/study/options.hpp>

#include <algorithm>
#include <cmath>
#include <set>

#include <lowspot/results/side_flows.hpp>
#include <lowspot/results/target.hpp>
#include <lowspot/study/candidate.hpp>
#include <lowspot/study/limits_not_kept.hpp>
#include <lowspot/study/missed_hours.hpp>
#include <lowspot/study/upkeep.hpp>
#include <lowspot/study/verdict.hpp>

namespace lowspot::study {
namespace {

using results::OptionRecord;

std::string words_of(const results::Judged& miss) {
  const std::string found = missed_plain_hours(miss.found / 3600, miss.limit / 3600),
                    limit = plain_hours(miss.limit / 3600);
  switch (miss.promise) {
  case results::Promise::standing:
    return miss.place + (miss.open_ended ? " still stands at the end" : " stands " + found) + ", agreed " +
           limit;
  case results::Promise::soggy_bed:
    return miss.place + (miss.open_ended ? " still soggy at the end" : " soggy " + found) + ", agreed " +
           limit;
  case results::Promise::dry_bed:
    return miss.place + " short of water " + (miss.open_ended ? "to the end, as far as is known" : found) +
           ", agreed " + limit;
  }
  return "";
}

void add_wet(const results::DesignRecord& design, const results::Comparison& all, OptionRecord& option) {
  option.standing_hours = results::longest_standing_hours(design, all.end_of_rain);
  option.still_standing = results::longest_standing(design, all.clear_within, all.end_of_rain).still;
  for (const results::AreaRecord& area : design.areas) {
    if (!area.judged) continue;
    option.still_standing = option.still_standing || area.still_standing;
    option.still_soggy = option.still_soggy || area.still_soggy;
    option.soggy_hours = std::max(option.soggy_hours, area.soggy_hours_after_rain);
  }
  option.beds = static_cast<int>(design.beds.size());
  for (const results::BedRecord& bed : design.beds)
    option.bed_soggy_hours = std::max(option.bed_soggy_hours, bed.soggy_hours);
  for (const results::BedRecord& bed : design.season_beds.empty() ? design.beds : design.season_beds)
    option.bed_dry_days = std::max(option.bed_dry_days, bed.days_below_half_available_water);
}

void add_edges(const results::DesignRecord& as_is, const results::DesignRecord& design,
               OptionRecord& option) {
  for (std::size_t k = 0; k < std::min(as_is.edges.size(), design.edges.size()); ++k)
    option.edges.push_back({design.edges[k].name, as_is.edges[k].peak_flow, design.edges[k].peak_flow,
                            as_is.edges[k].volume, design.edges[k].volume});
  option.drained = results::volume_by_outlets(design);
}

void add_works(const site::Site& site, const terrain::Ground& ground, const results::DesignRecord& record,
               OptionRecord& option) {
  for (const terrain::Earthwork& work : record.earthworks) {
    option.dig_volume += work.cut;
    option.fill_volume += work.fill;
  }
  for (const site::Design& design : site.designs) {
    if (design.name != record.name) continue;
    site::Design whole = design; // a later stage costs what the earlier ones did, too
    whole.standing.clear();
    whole.after.clear();
    const Works works = works_of(site, whole, ground);
    option.dig_length = works.length;
    option.dig_volume += works.dig;
    option.cost = works.cost;
    option.without_price = works.without_price;
    option.upkeep = upkeep_of(site, design);
    return;
  }
  if (!site.ordering.rates.empty()) option.cost = 0; // doing nothing
}

} // namespace

bool priced_alike(const std::vector<OptionRecord>& options) {
  const OptionRecord* first = nullptr; // of those with something to pay for
  for (const OptionRecord& one : options) {
    if (!std::isfinite(one.cost)) return false;
    if (one.cost == 0 && one.without_price == 0) continue;
    if (!first) first = &one;
    if (one.without_price != first->without_price) return false;
  }
  return true;
}

std::vector<OptionRecord> rank_options(const site::Site& site, const terrain::Ground& ground,
                                       const results::Comparison& comparison) {
  std::vector<OptionRecord> options;
  std::set<std::string> fit; // designs whose works keep every limit
  for (const results::DesignRecord& design : comparison.designs) {
    OptionRecord option;
    option.name = design.name;
    for (const results::Judged& miss : results::misses(comparison, design))
      option.not_kept.push_back(words_of(miss));
    option.works = option.not_kept.empty();
    if (limits_not_kept(comparison, design).empty()) fit.insert(design.name);
    add_wet(design, comparison, option);
    add_edges(comparison.designs.front(), design, option);
    add_works(site, ground, design, option);
    options.push_back(std::move(option));
  }
  const bool priced = priced_alike(options);
  std::stable_sort(options.begin(), options.end(), [&](const OptionRecord& a, const OptionRecord& b) {
    if (a.works != b.works) return a.works;
    if (a.works && fit.count(a.name) != fit.count(b.name)) return fit.count(a.name) > 0;
    if (priced && a.cost != b.cost) return a.cost < b.cost;
    if (a.dig_volume != b.dig_volume) return a.dig_volume < b.dig_volume;
    return a.standing_hours < b.standing_hours;
  });
  return options;
}

} // namespace lowspot::study
