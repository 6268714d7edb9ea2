#include <lowspot/report/diagnosis_words.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/base/text.hpp>

namespace lowspot::report {
namespace {

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

std::string numbers(const std::vector<int>& ids) {
  if (ids.size() > 4) return std::to_string(ids.size()) + " others";
  std::string text;
  for (std::size_t k = 0; k < ids.size(); ++k)
    text += (k == 0 ? "no. " : k + 1 == ids.size() ? " and " : ", ") + std::to_string(ids[k]);
  return text;
}

std::string spill_text(const study::Diagnosis& diagnosis, const study::LowSpotDiagnosis& low,
                       const Units& units) {
  const terrain::LowSpot& spot = low.spot;
  if (spot.closed)
    return "nothing leaves it: it has no place to spill, so it holds all that runs to it until the ground or "
           "the "
           "sun takes it";
  std::string text = "it spills over the " + low.spill_cover;
  if (!low.spill_side.empty()) text += " on its " + low.spill_side + " side";
  text += " at " + elevation_text(spot.spill_level, units);
  if (spot.spills_into > 0) {
    const auto next = std::find_if(diagnosis.low_spots.begin(), diagnosis.low_spots.end(),
                                   [&](const auto& other) { return other.spot.id == spot.spills_into; });
    const bool small = next != diagnosis.low_spots.end() && !worth_digging(*next);
    text += (small ? ", into a small hollow, no. " : ", into no. ") + std::to_string(spot.spills_into);
  }
  if (!low.leaves_yard) text += "; from there no water leaves the yard";
  return text;
}

} // namespace

std::string spot_name(const study::Diagnosis& diagnosis, const study::LowSpotDiagnosis& low) {
  const auto alike = std::count_if(diagnosis.low_spots.begin(), diagnosis.low_spots.end(),
                                   [&](const auto& other) { return other.place == low.place; });
  return "the " + low.place + (alike > 1 ? " (no. " + std::to_string(low.spot.id) + ")" : "");
}

std::string rain_text(double rain, const Units& units) {
  return std::isfinite(rain) ? amount(rain, units.depth) : "no rain at this rate";
}

std::string covers_text(const study::LowSpotDiagnosis& low, const Units& units, std::size_t most) {
  std::string text;
  double rest = 0;
  for (std::size_t k = 0; k < low.covers.size(); ++k) {
    if (k < most)
      text += (k == 0 ? "" : "; ") + low.covers[k].cover + " " + amount(low.covers[k].area, units.area, 3);
    else
      rest += low.covers[k].area;
  }
  if (rest > 0) text += "; other " + amount(rest, units.area, 3);
  return text;
}

std::string roofs_text(const study::LowSpotDiagnosis& low, const Units& units) {
  std::string text;
  for (const study::RoofShare& roof : low.roofs)
    text += (text.empty() ? "" : "; ") + roof.name + " " + amount(roof.roof_area, units.area, 3);
  return text;
}

std::string fall_figure(double fall, const Units& units) {
  return fixed(units.depth.of(fall), units.metric ? 0 : 1);
}

namespace {
std::string to_spare(const study::OutletRoute& route, const Units& units) {
  const std::string spare = fall_figure(std::max(0.0, route.margin), units);
  return spare == fall_figure(0, units) ? "nothing" : spare + ' ' + units.depth.name;
}
} // namespace

std::string reach_text(const study::OutletRoute& route, const Units& units) {
  switch (route.reach) {
  case study::Reach::by_gravity:
    return "by gravity, " + to_spare(route, units) + " to spare";
  case study::Reach::too_little_fall:
    return fall_figure(-route.margin, units) + ' ' + units.depth.name + " of fall missing";
  case study::Reach::too_deep:
    return "only with a cut of " + amount(route.deepest_cut, units.length);
  case study::Reach::shut_in:
    return "no way past the buildings";
  }
  return "";
}

std::string crosses_text(const study::OutletRoute& route, const Units& units) {
  std::string text;
  for (const auto& [name, length] : route.crosses)
    text += (text.empty() ? "" : "; ") + name + (length > 0 ? " " + amount(length, units.length) : "");
  return text;
}

namespace {
// "the south edge", or the name that was given.
std::string goal_of(const study::OutletRoute& route) {
  return route.kind == "edge" ? "the " + route.outlet : route.outlet;
}

// " over lot line 'back line'", where a pipe to there gives its water over one.
std::string over_line(const study::OutletRoute& route) {
  for (const auto& [name, length] : route.crosses)
    if (length == 0 && name.rfind("lot line", 0) == 0) return " over " + name;
  return "";
}

// Where the way of least digging has nothing to spare, another that has is worth knowing, though it be longer
// or lead over a lot line.
std::string with_more_to_spare(const std::vector<study::OutletRoute>& outlets, const Units& units) {
  constexpr double little = 0.0254; // m
  if (outlets.front().margin >= little) return "";
  for (const study::OutletRoute& other : outlets)
    if (other.reach == study::Reach::by_gravity && other.margin >= little)
      return " To " + goal_of(other) + over_line(other) + ", " + amount(other.length, units.length) +
             ", there are " + to_spare(other, units) + " to spare.";
  return "";
}
} // namespace

std::string outlet_sentence(const std::vector<study::OutletRoute>& outlets, const Units& units) {
  if (outlets.empty())
    return "The yard's edges are closed and no place for an outlet is named, so there is nowhere to drain "
           "to.";
  const study::OutletRoute& best = outlets.front();
  const std::string goal = goal_of(best) + over_line(best);
  switch (best.reach) {
  case study::Reach::by_gravity: {
    std::string text = "It can drain by gravity to " + goal + ", " + amount(best.length, units.length) +
                       ", with " + to_spare(best, units) + " of fall to spare; the deepest cut is " +
                       amount(best.deepest_cut, units.length) + ".";
    if (best.shallow_end > 0.05)
      text += " Over the last " + amount(best.shallow_end, units.length) +
              " before the outlet the pipe has less cover than is asked for.";
    return text + with_more_to_spare(outlets, units) +
           (over_line(best).empty() ? "" : " Ask whose ground lies beyond before water is sent there.");
  }
  case study::Reach::too_deep:
    return "No gravity outlet within the depth allowed: " + goal + " has the fall, but only with a cut of " +
           amount(best.deepest_cut, units.length) + ".";
  case study::Reach::too_little_fall:
    return "No gravity outlet: even to " + goal + ", " + amount(best.length, units.length) + ", " +
           fall_figure(-best.margin, units) + ' ' + units.depth.name + " of fall are missing.";
  case study::Reach::shut_in:
    return "No gravity outlet: buildings stand in every way.";
  }
  return "";
}

bool worth_digging(const study::LowSpotDiagnosis& low) {
  constexpr double square_yard = 0.83612736, five_gallons = 0.018927; // m2, m3
  return low.spot.area >= square_yard || low.spot.volume >= five_gallons;
}

std::vector<const study::LowSpotDiagnosis*> spots_to_dig_for(const study::Diagnosis& diagnosis) {
  std::vector<const study::LowSpotDiagnosis*> list;
  for (const study::LowSpotDiagnosis& low : diagnosis.low_spots)
    if (worth_digging(low)) list.push_back(&low);
  return list;
}

std::string small_spots_sentence(const study::Diagnosis& diagnosis, const Units& units) {
  std::size_t count = 0;
  double volume = 0;
  for (const study::LowSpotDiagnosis& low : diagnosis.low_spots)
    if (!worth_digging(low)) ++count, volume += low.spot.volume;
  if (count == 0) return "";
  if (count == 1)
    return "One small hollow holds " + amount(volume, units.volume) + ": a matter of raking, not of digging.";
  return std::to_string(count) + " small hollows hold " + amount(volume, units.volume) +
         " in all: a matter of raking, not of digging.";
}

std::string spot_sentence(const study::Diagnosis& diagnosis, const study::LowSpotDiagnosis& low,
                          const Units& units) {
  const terrain::LowSpot& spot = low.spot;
  std::string text = capital(spot_name(diagnosis, low)) + " holds " + amount(spot.volume, units.volume) +
                     ", " + amount(spot.depth, units.depth) + " deep; " + spill_text(diagnosis, low, units) +
                     ".";
  if (std::isfinite(low.rain_to_fill.wet)) {
    text += " It fills with " + amount(low.rain_to_fill.wet, units.depth) + " of rain on wet ground";
    if (!std::isfinite(low.rain_to_fill.as_it_starts))
      text += ", and not at all on ground as moist as the site file says";
    else if (low.rain_to_fill.as_it_starts > 1.05 * low.rain_to_fill.wet)
      text += ", " + amount(low.rain_to_fill.as_it_starts, units.depth) + " as the ground starts";
    text += low.fed_by.empty() ? "."
                               : ", what " + numbers(low.fed_by) + " spill" +
                                     (low.fed_by.size() > 1 ? "" : "s") + " into it counted.";
  } else if (diagnosis.rain_intensity > 0) {
    text += " Rain at the storm's mean rate does not fill it: the ground takes it in.";
  }
  if (low.outlets_searched) text += " " + outlet_sentence(low.outlets, units);
  return text;
}

std::string diagnosis_headline(const study::Diagnosis& diagnosis, const Units& units) {
  if (diagnosis.low_spots.empty())
    return "The ground has no low spot that would hold water: what stands is held by tight soil, not by the "
           "shape "
           "of the ground.";
  const auto spots = spots_to_dig_for(diagnosis);
  const std::string small = small_spots_sentence(diagnosis, units);
  if (spots.empty()) return "No low spot of the ground is worth digging for. " + small;
  const std::string text =
      spots.size() == 1 ? "One low spot. " : std::to_string(spots.size()) + " low spots; the largest first. ";
  return text + spot_sentence(diagnosis, *spots.front(), units) + (small.empty() ? "" : " " + small);
}

std::string rain_note(const study::Diagnosis& diagnosis, const Units& units) {
  return "Rain that fills a low spot: steady rain at " + amount(diagnosis.rain_intensity, units.rain) +
         ", the storm's depth over the time it rains, on the catchment by cover: leaves and small hollows "
         "keep their "
         "part, soil takes in what the law of Green and Ampt lets in until the topsoil is full, roofs shed "
         "all. "
         "Low spots upstream fill first. What runs over other ground soaks no more than rain does, and what "
         "soaks away under the pool meanwhile is counted without its depth: true figures are somewhat "
         "higher.";
}

std::string reach_note(const site::ReachRules& rules, const Units& units) {
  return "Outlets: at least " + rounded(100 * rules.least_fall, 3) + " % fall, " +
         amount(rules.cover, units.depth) + " of cover over a pipe of " + amount(rules.pipe, units.depth) +
         " outside, which may thin out over the last " + amount(rules.run_out, units.length) +
         "; no cut deeper than " + amount(rules.deepest_cut, units.length) +
         "; never under buildings. Fall available is from the highest pipe the head allows to the outlet; "
         "fall "
         "needed is the least fall over the length and what dips in the ground cost. An edge is an outlet "
         "only "
         "where the water may lawfully go.";
}

} // namespace lowspot::report
