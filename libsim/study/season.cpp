#include <lowspot/study/season.hpp>

#include <algorithm>

#include <lowspot/results/bed_record.hpp>
#include <lowspot/site/climate.hpp>

namespace lowspot::study {
namespace {
constexpr double day = 86400;

void note_down(const yard::Yard& yard, const results::BedRecorder& beds, double start,
               results::DesignRecord& record) {
  record.season_time.push_back(yard.time() - start);
  for (const auto& [name, value] : beds.series(yard)) {
    auto known = std::find_if(record.season_series.begin(), record.season_series.end(),
                              [&, &wanted = name](const results::Series& one) { return one.name == wanted; });
    if (known == record.season_series.end()) known = record.season_series.insert(known, {name, {}});
    known->values.push_back(value);
  }
}

void follow(yard::Yard& yard, double length, results::DesignRecord& record) {
  results::BedRecorder beds(yard);
  results::BedWatch watch(beds);
  const double start = yard.time();
  note_down(yard, beds, start, record);
  for (double past = day; past < length + day; past += day) {
    yard.advance(start + std::min(past, length), &watch);
    note_down(yard, beds, start, record);
  }
  record.season_beds = beds.finish(yard);
}

// The same yard without rain, as wet as the season begins. A spring runs on; what comes in by a table of
// times is that of the storm.
site::Site at_start_of(const site::Site& site) {
  site::Site dry = site;
  const auto of_the_storm = [](const auto& source) { return source.time.size() > 1; };
  std::erase_if(dry.edges.inflows, of_the_storm);
  std::erase_if(dry.edges.seeps, of_the_storm);
  for (site::Soil& soil : dry.soils) {
    soil.start = *site.season.start;
    soil.initial_moisture = site::start_content(soil, soil.start);
    soil.perched_start = site::start_perched(soil, soil.start);
  }
  return dry;
}
} // namespace

void run_season(const site::Site& site, const terrain::Ground& ground, const site::Design* design,
                yard::Yard& after_storm, results::DesignRecord& record) {
  const site::Season& season = site.season;
  if (season.dry_spell <= 0) return;
  if (!season.start) {
    after_storm.set_reference_et(season.reference_et);
    follow(after_storm, season.dry_spell, record);
    return;
  }
  const site::Site dry = at_start_of(site);
  const rain::Hyetograph no_rain{{0, 1}, {0}, {}};
  yard::Yard yard(dry, ground, no_rain, design);
  yard.set_reference_et(season.reference_et);
  follow(yard, season.dry_spell, record);
}

results::SeasonPlan season_plan(const site::Site& site) {
  static const char* const words[] = {"drained", "moist", "wet", "dry"};
  results::SeasonPlan plan;
  plan.length = site.season.dry_spell;
  plan.reference_et = site.season.reference_et;
  plan.month = site.season.month;
  if (plan.length > 0)
    plan.start = site.season.start ? words[static_cast<int>(*site.season.start)] : "after the storm";
  return plan;
}

} // namespace lowspot::study
