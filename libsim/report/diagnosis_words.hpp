// A diagnosis in plain words.
#pragma once
#include <string>
#include <vector>

#include <lowspot/report/units.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/study/diagnosis.hpp>

namespace lowspot::report {

// "The long bed (no. 1)": where a low spot lies, with its number where several lie there.
std::string spot_name(const study::Diagnosis& diagnosis, const study::LowSpotDiagnosis& low);
// "0.9 in", or "no rain at this rate".
std::string rain_text(double rain, const Units& units);
// "patio 364 ft², lawn 60 ft²", the largest first, at most `most` of them.
std::string covers_text(const study::LowSpotDiagnosis& low, const Units& units, std::size_t most = 5);
// "west downspout of the house 420 ft²"; empty when no roof sheds there.
std::string roofs_text(const study::LowSpotDiagnosis& low, const Units& units);
// "by gravity, 10 in to spare", "3 in of fall are missing", "only with a cut of 6.1 ft", "buildings stand in
// every way".
// A fall to a tenth of an inch or a millimetre, without its unit: one less another is the third.
std::string fall_figure(double fall, const Units& units);
std::string reach_text(const study::OutletRoute& route, const Units& units);
std::string crosses_text(const study::OutletRoute& route, const Units& units);

// Whether anybody would dig for it. A hollow of less than a square yard that holds less than a pailful and a
// half (5 gal) is mended with a rake; cells alone can make one.
bool worth_digging(const study::LowSpotDiagnosis& low);
// Those, the largest first.
std::vector<const study::LowSpotDiagnosis*> spots_to_dig_for(const study::Diagnosis& diagnosis);
// How many the others are and what they hold, in a sentence; empty: there are none.
std::string small_spots_sentence(const study::Diagnosis& diagnosis, const Units& units);

// What it holds, where it spills, what fills it, where it can drain to: one to four sentences.
std::string spot_sentence(const study::Diagnosis& diagnosis, const study::LowSpotDiagnosis& low,
                          const Units& units);
// Where the best outlet lies, or that there is none by gravity and what is missing.
std::string outlet_sentence(const std::vector<study::OutletRoute>& outlets, const Units& units);
// The answer in a sentence or two.
std::string diagnosis_headline(const study::Diagnosis& diagnosis, const Units& units);
// How the figures were come by: the rate of rain, what is left out.
std::string rain_note(const study::Diagnosis& diagnosis, const Units& units);
std::string reach_note(const site::ReachRules& rules, const Units& units);

} // namespace lowspot::report
