#include <lowspot/study/kind_of_wet.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/results/standing.hpp>
#include <lowspot/study/shares.hpp>
#include <lowspot/study/verdict.hpp>

namespace lowspot::study {
namespace {

constexpr double at_the_end = 1; // s: what stood so shortly before the simulated time ended still stands

// Hours that at least a square foot of these cells stood in all after the rain.
double puddle_hours(const std::vector<int>& cells, double cell_area, const Field& hours) {
  std::vector<double> each;
  for (const int cell : cells) each.push_back(hours[cell]);
  const auto needed =
      static_cast<std::size_t>(std::max(1.0, std::ceil(results::least_puddle / cell_area - 1e-9)));
  if (each.size() < needed) return 0;
  std::nth_element(each.begin(), each.begin() + static_cast<std::ptrdiff_t>(needed - 1), each.end(),
                   [](double a, double b) { return a > b; });
  return each[needed - 1];
}

double mean_of(const std::vector<int>& cells, const Field& values) {
  double sum = 0;
  for (const int cell : cells) sum += values[cell];
  return cells.empty() ? 0 : sum / static_cast<double>(cells.size());
}

std::string finding(const WetPlace& place, bool hard, bool feet) {
  const std::string near = feet ? "4 in" : "100 mm";
  const std::string puddle = (place.still ? "more than " : "") + plain_hours(place.puddle_hours);
  // Another measure than the hours of the comparison, which wait for the last tenth of the place: it is
  // named.
  const std::string soggy = plain_hours(place.soggy_hours) + " on the mean over it, rain included";
  switch (place.wet) {
  case Wet::no:
    return "It does not stay wet in this storm.";
  case Wet::surface:
    if (hard) return "Surface water: a puddle stands on it for " + puddle + " after the rain.";
    return "Surface water: a puddle stands for " + puddle +
           " after the rain while the soil under it is not full to the top" +
           (place.soggy_hours >= 0.75 ? " for longer than " + soggy : std::string()) + ".";
  case Wet::perched:
    return "Water in the soil: no puddle to speak of, but the soil is full to within " + near +
           " of the ground for " + soggy + ".";
  case Wet::both:
    return "Both: a puddle stands for " + puddle + " after the rain, and the soil is full to within " + near +
           " of the ground for " + soggy + ".";
  }
  return "";
}

std::string test_for(Wet wet, bool hard, bool feet) {
  const std::string push =
      std::string("push a long screwdriver ") + (feet ? "6 in" : "150 mm") + " into the ";
  if (hard && wet != Wet::no)
    return "Time it: a puddle on a hard surface comes with the first minutes of rain. Sweep it away on a dry "
           "day: if it comes back without rain, it is a leak or a spring and not the shape of the surface.";
  switch (wet) {
  case Wet::no:
    return "";
  case Wet::surface:
    return "While the puddle stands, " + push + "ground " + (feet ? "a foot" : "300 mm") +
           " beside it and wait a quarter of an hour. A hole that stays empty says surface water, which "
           "comes with the rain and "
           "goes within hours of finding a way: grade, an inlet or stone up to the surface. A hole that "
           "fills "
           "says that the soil is full, too.";
  case Wet::perched:
    return "A day after the rain, " + push +
           "soft ground and wait a quarter of an hour. A hole that fills to within " +
           (feet ? "4 in" : "100 mm") +
           " of the ground says water in the soil: it comes slowly, "
           "lasts for days, and grading alone will not take it. A hole that stays empty says that only the "
           "surface was wet.";
  case Wet::both:
    return "Watch the order: surface water is there within minutes of hard rain, soil fills over hours. Once "
           "the puddle is gone, " +
           push +
           "ground beside it: if the hole still "
           "fills within a quarter of an hour a day later, the soil has to be drained as well; if not, the "
           "surface is all there is to mend.";
  }
  return "";
}

std::string fix_for(const SharePart& part, const std::string& place) {
  if (part.kind == "roof") return "pipe the water of " + part.source + " away";
  if (part.kind == "inflow") return "turn " + part.source + " away at the edge: a swale or a curb";
  if (part.kind == "leak") return "find and stop " + part.source;
  if (part.kind == "from below") return "drain the soil that it rises from";
  if (part.kind == "drain") return "take the drain's outlet elsewhere";
  if (part.source == "rain on " + place)
    return "rain on the place itself cannot be turned away: give it fall, an inlet or a drain";
  return "turn the " + part.source + " away before it gets there: fall, an edge or a channel";
}

void add_fixes(const results::DesignRecord& record, WetPlace& place) {
  const results::PlaceShares* shares = find_place(record.shares, place.kind, place.name);
  // What only the soil holds has lost its sources.
  if (!shares || place.wet == Wet::no || place.wet == Wet::perched) return;
  for (const SharePart& part : largest_first(record.shares, shares->at_peak))
    if (part.share >= 0.005) place.fixes.push_back({fix_for(part, place.name), part.source, part.share});
}

} // namespace

std::string wet_name(Wet wet) {
  switch (wet) {
  case Wet::no:
    return "not wet";
  case Wet::surface:
    return "surface water";
  case Wet::perched:
    return "water in the soil";
  case Wet::both:
    return "surface water and water in the soil";
  }
  return "";
}

Wet kind_of_wet(double puddle_hours, double soggy_hours) {
  const bool puddle = puddle_hours >= least_puddle_hours, soggy = soggy_hours >= least_soggy_hours;
  if (puddle && soggy) return Wet::both;
  if (puddle) return Wet::surface;
  return soggy ? Wet::perched : Wet::no;
}

std::vector<WetPlace> judge_wet_places(const site::Site& site, const results::Comparison& comparison,
                                       const results::DesignRecord& record, std::size_t most_low_spots) {
  std::vector<WetPlace> places;
  for (std::size_t a = 0; a < record.areas.size(); ++a) {
    const results::AreaRecord& area = record.areas[a];
    const bool hard = a < site.areas.size() && site.areas[a].impervious;
    WetPlace place;
    place.name = area.name;
    place.kind = "area";
    place.puddle_hours = area.standing_hours_after_rain;
    place.still = area.still_standing;
    place.soggy_hours = hard ? 0 : area.soggy_hours; // what stands under a slab is not felt on it
    place.wet = kind_of_wet(place.puddle_hours, place.soggy_hours);
    place.finding = finding(place, hard, site.units == "ft");
    place.test = test_for(place.wet, hard, site.units == "ft");
    add_fixes(record, place);
    places.push_back(std::move(place));
  }
  for (std::size_t s = 0; s < std::min(most_low_spots, comparison.low_spots.size()); ++s) {
    const terrain::LowSpot& spot = comparison.low_spots[s];
    if (spot.cells.empty() || record.standing_hours.empty() || record.soggy_hours.empty()) continue;
    std::size_t on_hard = 0;
    for (const int cell : spot.cells) {
      const int cover = comparison.cover.empty() ? -1 : comparison.cover[cell];
      on_hard += (cover >= 0 ? site.areas[cover].impervious : site.lawn.impervious) ? 1 : 0;
    }
    const bool hard = 2 * on_hard > spot.cells.size();
    WetPlace place;
    place.name = "low spot " + std::to_string(spot.id);
    place.kind = "low spot";
    place.puddle_hours = puddle_hours(spot.cells, comparison.grid.cell_area(), record.standing_hours);
    if (!record.last_standing.empty() && !record.time.empty()) { // a square foot of it, as for the hours
      const std::vector<double> areas(spot.cells.size(), comparison.grid.cell_area());
      const double stood =
          results::last_standing(spot.cells, areas, record.last_standing, results::least_puddle);
      place.still = stood > 0 && stood >= record.time.back() - at_the_end;
    }
    place.soggy_hours = hard ? 0 : mean_of(spot.cells, record.soggy_hours);
    place.wet = kind_of_wet(place.puddle_hours, place.soggy_hours);
    place.finding = finding(place, hard, site.units == "ft");
    place.test = test_for(place.wet, hard, site.units == "ft");
    add_fixes(record, place);
    places.push_back(std::move(place));
  }
  return places;
}

} // namespace lowspot::study
