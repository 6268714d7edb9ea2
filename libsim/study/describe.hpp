// What is known of a yard before anything is run.
#pragma once
#include <string>

#include <lowspot/rain/hyetograph.hpp>
#include <lowspot/results/record.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::study {

// A comparison without designs: names, grid, ground, storm, target, warnings and defaults. The low spots are
// left out.
results::Comparison describe(const site::Site& site, const terrain::Ground& ground,
                             const rain::Hyetograph& rain, const std::string& version);

} // namespace lowspot::study
