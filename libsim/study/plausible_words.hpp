// The band in plain words.
#pragma once
#include <string>
#include <vector>

#include <lowspot/results/plausible_record.hpp>
#include <lowspot/results/record.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::study {

// In how many soils the recommended design works, how long the place that stands longest stands, where the
// answer turns, and the next test. recommended: empty for none.
std::string plausible_sentence(const results::PlausibleStudy& study, const site::Site& site,
                               const std::string& recommended);

// "meets the target in 17 of 20 plausible soils"; weighted ones are said as such.
std::string works_phrase(const results::PlausibleDesign& design, int draws, bool weighted);
// "fails where the conductivity of the tight layer is below 0.02 in/hr"; empty where nothing flips.
std::string flip_phrase(const results::PlausibleDesign& design, const results::PlausibleStudy& study,
                        const site::Site& site);
// "2 to 20 hours"; "about 40 hours to more than 7 days".
std::string band_phrase(const results::PlausibleFigure& figure);
// A sentence for every place that stands much longer or shorter by the quick runs of the draws than in the
// main run (null where it is not at hand), with what the two were made with: where they part by more than a
// factor of two, and an hour. And one that names the figures other than hours that the main run has outside
// the band of its draws, which are not brought to it.
std::vector<std::string> quick_run_notes(const results::PlausibleStudy& study,
                                         const results::Comparison* main, const site::Site& site);
// Draws whose weights differ by what was seen.
bool is_weighted(const results::PlausibleStudy& study);
// A value of an input as a person would write it.
std::string value_text(const results::PlausibleInput& input, double value, const site::Site& site);

// The hours that a test should narrow: where water stands longest with the recommended design if they spread,
// else as the yard is; null where neither do.
const results::PlausibleFigure* hours_to_narrow(const results::PlausibleStudy& study,
                                                const std::string& recommended);

// The standing hours of a design at the judged area with the most of them at P50; null without any.
const results::PlausibleFigure* worst_standing(const results::PlausibleStudy& study,
                                               const std::string& design);

} // namespace lowspot::study
