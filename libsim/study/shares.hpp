// Where the water of a place comes from, in order of size and in words.
#pragma once
#include <string>
#include <vector>

#include <lowspot/results/record.hpp>

namespace lowspot::study {

// What one source gives.
struct SharePart {
  std::string source, kind; // as in results::SourceName
  double volume = 0;        // m3
  double share = 0;         // of the whole, 0..1
};

// Sources of these volumes [m3, one a source], the largest first; those without water are left out.
std::vector<SharePart> largest_first(const results::SourceShares& shares, const std::vector<double>& volumes);

// "At its fullest 62 % of it is rain on patio and 25 % house, east downspout; the rest are 3 others." Empty
// for a place that never held water.
std::string shares_sentence(const results::SourceShares& shares, const results::PlaceShares& place);

// The place of this kind and name; null when there is none.
const results::PlaceShares* find_place(const results::SourceShares& shares, const std::string& kind,
                                       const std::string& name);

} // namespace lowspot::study
