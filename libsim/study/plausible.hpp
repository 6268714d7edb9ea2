// The answer as a band: the same storm and designs on many plausible soils, each soil the same for every
// design.
#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include <lowspot/results/plausible_record.hpp>
#include <lowspot/results/record.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/study/executor.hpp>
#include <lowspot/terrain/ground.hpp>
#include <lowspot/yard/yard.hpp>

namespace lowspot::study {

// How many soils are drawn unless one says.
inline constexpr int usual_draws = 20;

// How the draws are made.
struct PlausibleOptions {
  int draws = usual_draws;                          // soils
  std::uint64_t seed = 1;                           // of the random draws
  std::vector<std::string> designs;                 // names to run; empty: all. The yard as it is always runs
  surface::Method method = surface::Method::routed; // of the draws
  // As in CompareOptions.
  std::function<bool(double share)> progress;
};

// The cell size of the draws [m] with which they cost about as much as the main runs (cells of main_cell m,
// so many of them): a routed run of figures alone costs a quarter of a dynamic one of the same cells or less,
// and there are (draws + 1) for each main run. Between main_cell and four times that, and no larger than
// leaves a thousand cells; a function of these figures alone, so that the same command gives the same answer
// on a faster machine.
double draw_cell(double main_cell, std::size_t cells, int draws);

// Runs as is and each design on `draws` stratified soils (draws.hpp) and at the likely values, on the ground
// of the draws. main: the comparison in full, of the same designs; hours of draws are multiplied by what it
// finds over what the draws' cells and method find, both at the likely values, where both are over an hour (a
// factor between a half and two), so that band and main figure agree; null leaves them as they are. On a
// process that does not lead, main may be null. Draws whose yard as it is stands shorter or longer than
// [[seen]] after rain says are weighted by exp(-(ln(simulated / seen) / ln 1.5)^2 / 2), an owner's memory
// being good to half as much again. draws: 0 where no draw was asked for or no figure of the site is a band.
results::PlausibleStudy plausible_soils(const site::Site& site, const terrain::Ground& coarse,
                                        const results::Comparison* main, Executor& executor,
                                        const PlausibleOptions& options);

} // namespace lowspot::study
