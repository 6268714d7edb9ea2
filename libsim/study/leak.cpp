#include <lowspot/study/leak.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/rain/hyetograph.hpp>
#include <lowspot/results/soggy.hpp>
#include <lowspot/results/standing.hpp>
#include <lowspot/study/seen_weights.hpp>
#include <lowspot/study/verdict.hpp>
#include <lowspot/yard/yard.hpp>

namespace lowspot::study {
namespace {

constexpr double near_enough = 0.98;    // of the time seen
constexpr double much_longer = 2;       // times the time seen
constexpr double look_every = 6 * 3600; // s: whether anything still changes
constexpr double still = 1e-4;          // relative change that counts as none
constexpr int looks_to_be_sure = 3;
constexpr double seeped_in = 48 * 3600; // s after the rain
constexpr double least_flow = 1e-9;     // m3/s: a bathtub in five years
constexpr double largest_flow = 3e-3;   // m3/s: a garden hose is a tenth of it
constexpr double bracket_factor = 4, width_wanted = 1.1;

struct Place {
  std::vector<int> cells;
  int lowest = -1; // where a flow would come up
  double area = 0; // m2
};

Place place_of(const site::Site& site, const terrain::Ground& ground, const site::Seen& seen) {
  Place place;
  const Grid& grid = ground.grid;
  const auto add = [&](int cell) {
    if (!ground.active[cell]) return;
    place.cells.push_back(cell);
    place.area += grid.cell_area();
    if (place.lowest < 0 || ground.elevation[cell] < ground.elevation[place.lowest]) place.lowest = cell;
  };
  if (seen.at) {
    // The cell itself and those around it.
    const int middle = static_cast<int>(cell_at(grid, seen.at->x, seen.at->y));
    for (int j = -1; middle >= 0 && j <= 1; ++j)
      for (int i = -1; i <= 1; ++i)
        if (grid.inside(grid.column(middle) + i, grid.row(middle) + j)) add(middle + j * grid.nx + i);
  } else {
    for (std::size_t a = 0; a < site.areas.size(); ++a)
      for (std::size_t k = 0; site.areas[a].name == seen.area && k < ground.areas[a].cells.size(); ++k)
        if (ground.areas[a].fractions[k] >= 0.5) add(ground.areas[a].cells[k]);
  }
  if (place.cells.empty())
    throw InputError({site.file.string(), seen.line, "seen"}, "'" + seen.name + "' on no open ground",
                     "a place in the yard, outside buildings", "move it, or use smaller cells");
  return place;
}

rain::Hyetograph rain_of(const site::Site& site, const site::Seen& seen) {
  if (!std::isfinite(seen.rain)) return rain::make_hyetograph(site);
  rain::Hyetograph rain;
  rain.time = {0, seen.rain_duration};
  rain.intensity = {seen.rain / seen.rain_duration};
  return rain;
}

// Watches whether the place is wet and what it holds.
struct Watch : yard::Observer {
  Watch(const Place& place_, double limit_, bool soggy_counts_)
      : place(place_), limit(limit_), soggy_counts(soggy_counts_) {}
  void step_done(const yard::Yard& yard, const yard::StepFlows&) override {
    const double cell_area = yard.ground().grid.cell_area();
    double standing = 0, soggy = 0;
    held = 0;
    for (const int cell : place.cells) {
      const double saturated = yard.saturated()[cell];
      held += yard.depth()[cell] + saturated;
      if (yard.depth()[cell] > limit) standing += cell_area;
      // What stands under a slab is not felt on it.
      const bool soft =
          yard.ground().pervious[cell] > 0 &&
          results::above_soggy_level(yard.columns().depth[cell], saturated, yard.sealed()[cell] != 0) > 0;
      if (soft) soggy += cell_area;
    }
    const double enough = std::min(results::least_puddle, place.area / 2) * (1 - 1e-9);
    wet = standing >= enough || (soggy_counts && soggy >= enough);
    if (wet) last_wet = yard.time();
  }
  const Place& place;
  double limit;
  bool soggy_counts;
  bool wet = false;
  double last_wet = 0, held = 0;
};

// How long the place stays wet after the rain with a constant flow [s]; no longer than `lasted` is looked at.
double wet_for(const site::Site& site, const terrain::Ground& ground, const rain::Hyetograph& rain,
               const Place& place, const site::Seen& seen, double flow,
               surface::Method method = surface::Method::dynamic) {
  yard::Options options;
  options.method = method;
  if (flow > 0) options.leaks = {{"leak", {place.lowest}, flow}};
  yard::Yard yard(site, ground, rain, nullptr, options);
  Watch watch(place, site.target.standing_depth, !std::isfinite(seen.rain));
  const double end_of_rain = yard.end_of_rain(), end = end_of_rain + seen.lasted;
  yard.advance(end_of_rain, &watch);
  double held = watch.held;
  bool was_wet = watch.wet;
  int rising = 0; // looks in a row at which the place was wet and lost nothing
  while (yard.time() < end) {
    yard.advance(std::min(end, yard.time() + look_every), &watch);
    // Rates do not change after the rain. With a constant flow a place that has stopped falling, long after
    // the rain has seeped in, stays wet; dry ground does not get wet once what it holds has stopped rising.
    const double change = (watch.held - held) / std::max(held, 1e-12);
    rising = watch.wet && was_wet && change >= 0 ? rising + 1 : 0;
    if (flow > 0 && rising >= looks_to_be_sure && yard.time() - end_of_rain >= seeped_in) return seen.lasted;
    if (!watch.wet && !was_wet && change <= still) break;
    held = watch.held;
    was_wet = watch.wet;
  }
  return std::clamp(watch.last_wet - end_of_rain, 0.0, seen.lasted);
}

std::string flow_words(const site::Site& site, double flow) {
  const double per_minute = site.units == "ft" ? flow * 60 / 3.785411784e-3 : flow * 6e4;
  return rounded(per_minute, 2) + (site.units == "ft" ? " gal/min" : " L/min");
}

std::string sentence(const site::Site& site, const LeakFinding& finding) {
  const std::string when = finding.without_rain
                               ? plain_hours(finding.lasted / 3600) + " without rain"
                               : plain_hours(finding.lasted / 3600) + " after the rain that was seen";
  if (finding.rain_explains && finding.by_rain_alone >= much_longer * finding.lasted) {
    const bool to_the_end = finding.by_rain_alone >= near_enough * seen_followed * finding.lasted;
    return "Rain explains more than was seen: in the simulation " + finding.place + " stays wet for " +
           (to_the_end ? "more than " : "") + plain_hours(finding.by_rain_alone / 3600) +
           ", but it was seen wet for " + plain_hours(finding.lasted / 3600) +
           " only. Water gets away faster than the site file says: its soil, or the way over its rim, is not "
           "yet "
           "that of this yard.";
  }
  if (finding.rain_explains)
    return "Rain explains it: in the simulation " + finding.place + " is also wet " + when +
           ", with no water but rain.";
  std::string text = "Rain alone does not explain it: in the simulation " + finding.place + " is dry " +
                     (finding.by_rain_alone > 0 ? "after " + plain_hours(finding.by_rain_alone / 3600)
                                                : "when the rain ends") +
                     ", but it was seen wet " + when + ". ";
  if (!std::isfinite(finding.flow_high))
    return text + "No constant flow up to " + flow_words(site, largest_flow) +
           " at its lowest point would explain it either: look again at levels, soil and where it was wet.";
  return text + "A constant flow of about " +
         flow_words(site, std::sqrt(finding.flow_low * finding.flow_high)) +
         " coming up at its lowest point would: a leaking pipe, irrigation, or a spring. A tighter soil than "
         "assumed" +
         (finding.without_rain ? "" : ", or a hollow between the shots that the levels do not show,") +
         " would, too: the tests tell which.";
}

std::vector<std::string> tests_for(const site::Site& site, const LeakFinding& finding) {
  if (finding.rain_explains) return {};
  std::vector<std::string> tests;
  if (!finding.without_rain)
    tests.emplace_back(
        "Lay a straight board with a level on it across the place, both ways: light under its middle is a "
        "hollow. Shoot its lowest point and its rim, add them to the levels and look again.");
  if (std::isfinite(finding.flow_high)) {
    // A meter shows a quarter of a gallon at best: a small leak needs a whole night to show.
    constexpr double shown = 1e-3, half_hour = 1800, night = 8 * 3600;
    const bool short_wait = finding.flow_low * half_hour >= shown;
    const double moved = finding.flow_low * (short_wait ? half_hour : night) * 1000;
    const std::string volume =
        site.units == "ft" ? rounded(moved / 3.785411784, 2) + " gal" : rounded(moved, 2) + " L";
    // Nor does a meter rule out what it cannot show.
    if (finding.flow_low * night < shown)
      tests.push_back(
          "A leak of this size does not show on the water meter: in a night (8 hours) it moves it by about " +
          volume + ". A meter that moves with every tap off tells of a larger one.");
    else
      tests.push_back("With every tap off, read the water meter, wait " +
                      std::string(short_wait ? "30 minutes" : "a night (8 hours)") +
                      " and read it again: a leak of this size moves it by about " + volume +
                      ". If it does not move, the supply pipe is not it.");
  }
  tests.emplace_back("Shut irrigation off at its valve for as long as it was seen wet and look again.");
  tests.emplace_back(
      "Put dye in the toilets, the pool, the sump and the downspout pipes, one at a time: colour that "
      "comes up names the pipe. A smell of sewage means stop and call the right trade.");
  tests.emplace_back(
      "If none of these is it, dig one hole beside the place in dry weather: water that rises in it "
      "from below is a spring or high ground water, not surface water.");
  return tests;
}

} // namespace

LeakFinding explain_seen(const site::Site& site, const terrain::Ground& ground, const site::Seen& seen) {
  const Place place = place_of(site, ground, seen);
  const rain::Hyetograph rain = rain_of(site, seen);
  LeakFinding finding;
  finding.seen = seen.name;
  finding.place = seen.area.empty() ? "the place" : "'" + seen.area + "'";
  finding.without_rain = !std::isfinite(seen.rain);
  finding.lasted = seen.lasted;
  const auto explains = [&](double flow) {
    ++finding.runs;
    return wet_for(site, ground, rain, place, seen, flow) >= near_enough * seen.lasted;
  };
  site::Seen longer = seen; // that rain keeps it wet for much longer than was seen is worth knowing, too
  if (!finding.without_rain) longer.lasted *= seen_followed;
  ++finding.runs;
  finding.by_rain_alone = wet_for(site, ground, rain, place, longer, 0);
  finding.rain_explains = finding.by_rain_alone >= near_enough * seen.lasted;
  if (!finding.rain_explains) {
    // What the tight layer under the place and the air would take.
    const double air = std::isfinite(site.storm.reference_et) ? site.storm.reference_et : 0;
    const int soil = ground.soil.empty() ? 0 : ground.soil[place.lowest];
    double low = std::clamp(place.area * (site.soils[soil].tight_conductivity.likely + air), 10 * least_flow,
                            largest_flow / bracket_factor);
    double high = low;
    bool found = explains(low);
    if (found)
      while (low > least_flow && explains(low /= bracket_factor)) high = low;
    while (!found && high < largest_flow) {
      low = high;
      high = std::min(bracket_factor * high, largest_flow);
      found = explains(high);
    }
    if (!found) {
      finding.flow_low = finding.flow_high = site::not_given;
    } else {
      while (high > width_wanted * low) {
        const double middle = std::sqrt(low * high);
        (explains(middle) ? high : low) = middle;
      }
      finding.flow_low = low;
      finding.flow_high = high;
    }
  }
  finding.sentence = sentence(site, finding);
  finding.tests = tests_for(site, finding);
  return finding;
}

double wet_after_rain(const site::Site& site, const terrain::Ground& ground, const site::Seen& seen,
                      double longest, surface::Method method) {
  site::Seen longer = seen;
  longer.lasted = longest;
  return wet_for(site, ground, rain_of(site, seen), place_of(site, ground, seen), longer, 0, method);
}

} // namespace lowspot::study
