// The dry spell of a season: do the beds go thirsty, and would the drain be why?
#pragma once
#include <lowspot/results/record.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>
#include <lowspot/yard/yard.hpp>

namespace lowspot::study {

// Rain-free days after the present state of `after_storm`, or, where the site names a start of its own, of a
// yard at that moisture. Fills season_beds, season_time [s from the start of the spell] and season_series of
// the record. Does nothing when the site has no [season].
void run_season(const site::Site& site, const terrain::Ground& ground, const site::Design* design,
                yard::Yard& after_storm, results::DesignRecord& record);

// What the season is, for the record; length 0 without one.
results::SeasonPlan season_plan(const site::Site& site);

} // namespace lowspot::study
