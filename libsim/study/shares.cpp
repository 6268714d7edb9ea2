#include <lowspot/study/shares.hpp>

#include <algorithm>
#include <cmath>

namespace lowspot::study {
namespace {

// Sources smaller than this are not worth a name in a sentence.
constexpr double least_named = 0.05;
constexpr std::size_t most_named = 3;

std::string whole_percent(double share) {
  const long value = std::lround(100 * share);
  if (value == 0 && share > 0) return "under 1 %";
  if (value == 100 && share < 1) return "over 99 %";
  return std::to_string(value) + " %";
}

} // namespace

std::vector<SharePart> largest_first(const results::SourceShares& shares,
                                     const std::vector<double>& volumes) {
  double whole = 0;
  for (const double volume : volumes) whole += volume;
  std::vector<SharePart> parts;
  for (std::size_t s = 0; s < volumes.size() && s < shares.sources.size(); ++s)
    if (volumes[s] > 0)
      parts.push_back({shares.sources[s].name, shares.sources[s].kind, volumes[s], volumes[s] / whole});
  std::stable_sort(parts.begin(), parts.end(),
                   [](const SharePart& a, const SharePart& b) { return a.volume > b.volume; });
  return parts;
}

std::string shares_sentence(const results::SourceShares& shares, const results::PlaceShares& place) {
  const std::vector<SharePart> parts = largest_first(shares, place.at_peak);
  if (parts.empty()) return "";
  std::size_t named = 1;
  while (named < parts.size() && named < most_named && parts[named].share >= least_named) ++named;
  std::string text = "At its fullest ";
  for (std::size_t k = 0; k < named; ++k) {
    if (k > 0) text += k + 1 == named ? " and " : ", ";
    text += whole_percent(parts[k].share) + (k == 0 ? " of the water is " : " ") + parts[k].source;
  }
  double rest = 0;
  for (std::size_t k = named; k < parts.size(); ++k) rest += parts[k].share;
  if (rest >= 0.005) text += "; the other " + whole_percent(rest) + " came other ways";
  return text + ".";
}

const results::PlaceShares* find_place(const results::SourceShares& shares, const std::string& kind,
                                       const std::string& name) {
  for (const results::PlaceShares& place : shares.places)
    if (place.kind == kind && place.name == name) return &place;
  return nullptr;
}

} // namespace lowspot::study
