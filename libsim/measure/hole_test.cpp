#include <lowspot/measure/hole_test.hpp>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace lowspot::measure {
namespace {

constexpr double pi = 3.14159265358979323846;
// What shape factors by different solutions differ by, as a logarithm (about a fifth).
constexpr double shape_spread = 0.2;
// A rate without readings: how well it was read is not known.
constexpr double bare_rate_spread = 0.15;
// Falls are pooled from the last backwards while they agree within this share and their reading errors.
constexpr double agree_within = 0.15;

struct Fall {
  double duration = 0;
  double from = 0, to = 0;
  double absorbed = 0; // m of hole depth that went in since the start, up to the middle of the fall
};

bool is_band(const Range& range) {
  return range.low > 0 && range.low <= range.likely && range.likely <= range.high &&
         std::isfinite(range.high);
}

void require(const HoleTest& test) {
  bool good = test.diameter > 0 && std::isfinite(test.diameter);
  if (test.rate > 0) {
    good = good && std::isfinite(test.rate) && test.rate_depth > 0 && std::isfinite(test.rate_depth);
  } else {
    good = good && test.readings.size() >= 2;
    for (std::size_t k = 0; k < test.readings.size(); ++k) {
      const Reading& reading = test.readings[k];
      good = good && std::isfinite(reading.time) && reading.water_depth >= 0 &&
             std::isfinite(reading.water_depth);
      good = good && (k == 0 || reading.time > test.readings[k - 1].time);
    }
  }
  if (!good)
    throw std::invalid_argument("a hole test needs a diameter, and a rate or readings whose times rise");
  if (!is_band(test.fillable) || !is_band(test.sorptive_number) || !(test.presoak >= 0) ||
      !std::isfinite(test.presoak) || !(test.reading_error >= 0) || !std::isfinite(test.reading_error))
    throw std::invalid_argument("a hole test with a band, a presoak or a reading error that is none");
}

std::vector<Fall> falls_of(const HoleTest& test) {
  std::vector<Fall> falls;
  double gone = 0;
  for (std::size_t k = 1; k < test.readings.size(); ++k) {
    const Reading &a = test.readings[k - 1], &b = test.readings[k];
    if (b.refilled) continue;
    const double fall = a.water_depth - b.water_depth;
    falls.push_back({b.time - a.time, a.water_depth, b.water_depth, gone + 0.5 * fall});
    gone += std::max(0.0, fall);
  }
  return falls;
}

// Pools falls [first, end): conductivity is the sum of conductivity times over the sum of durations.
struct Pool {
  double through = 0, duration = 0, fallen = 0, depth_time = 0, absorbed_time = 0;
  int falls = 0;
  double conductivity() const { return through / duration; }
};

double through(const AugerHole& hole, const Fall& fall) {
  return fall.from > fall.to ? conductivity_time(hole, fall.from, fall.to)
                             : -conductivity_time(hole, fall.to, fall.from);
}

Pool pool(const AugerHole& hole, const std::vector<Fall>& falls, std::size_t first) {
  Pool sum;
  for (std::size_t k = first; k < falls.size(); ++k) {
    const Fall& fall = falls[k];
    sum.through += through(hole, fall);
    sum.duration += fall.duration;
    sum.fallen += fall.from - fall.to;
    sum.depth_time += 0.5 * (fall.from + fall.to) * fall.duration;
    sum.absorbed_time += fall.absorbed * fall.duration;
    ++sum.falls;
  }
  return sum;
}

// How far reading errors may move the fall over a stretch, as a share of it.
double reading_share(const HoleTest& test, double fallen) {
  return std::sqrt(2.0) * test.reading_error / std::max(fallen, 1e-12);
}

// From which fall on the flow is steady.
std::size_t steady_from(const AugerHole& hole, const HoleTest& test, const std::vector<Fall>& falls) {
  std::size_t first = falls.size() - 1;
  // Enough of a fall to read.
  while (first > 0 && pool(hole, falls, first).fallen < 4 * test.reading_error) --first;
  while (first > 0) {
    const Pool late = pool(hole, falls, first);
    const Fall& before = falls[first - 1];
    const double ratio = through(hole, before) / before.duration / late.conductivity();
    const double error = reading_share(test, before.from - before.to) + reading_share(test, late.fallen);
    if (std::abs(ratio - 1) > agree_within + error) break;
    --first;
  }
  return first;
}

// Water that rises.
bool find_rise(const HoleTest& test, const std::vector<Fall>& falls, Finding& finding) {
  const double noise = std::max(2 * test.reading_error, 0.003);
  double low = falls.front().from;
  for (std::size_t k = 0; k < falls.size(); ++k) {
    if (k > 0 && falls[k].from > falls[k - 1].to) low = falls[k].from; // filled up
    if (falls[k].to > std::max(low, 0.0) + noise) {
      finding.outcome = Outcome::perched;
      finding.rose = true;
      finding.resting_at = falls.back().to;
      return true;
    }
    low = std::min(low, falls[k].to);
  }
  return false;
}

// Water that comes to rest above the bottom after a fall that was quick enough to go on. All within one
// layer: a quick topsoil over slow clay slows the fall as well.
bool find_rest(const AugerHole& hole, const HoleTest& test, const std::vector<Fall>& falls,
               Finding& finding) {
  // The end without a fall, and what was before it.
  std::size_t first = falls.size();
  while (first > 0 && pool(hole, falls, first - 1).fallen <= 2 * test.reading_error) --first;
  if (first == 0 || first == falls.size() || falls.back().to < 0.01) return false;
  const Pool still = pool(hole, falls, first);
  Pool moving = pool(hole, {falls.begin(), falls.begin() + static_cast<long>(first)}, 0);
  const double due = moving.conductivity() * still.duration * overstatement(hole, falls.back().to);
  if (moving.fallen < 4 * test.reading_error || due < 10 * test.reading_error) return false;
  finding.outcome = Outcome::perched;
  finding.resting_at = falls.back().to;
  return true;
}

// Water that a presoak at `depth` left in the ground, at conductivity K [m3].
double presoaked(const AugerHole& hole, const HoleTest& test, double depth, double conductivity) {
  return pi * hole.radius * hole.radius * conductivity * overstatement(hole, depth) * test.presoak;
}

// What widens a band besides the soil and the shape of the hole, as logarithms.
struct Spread {
  double reading = 0;      // errors of the readings, both ways
  double down = 0, up = 0; // of a time that was not seen
};

// Likely value and band around a steady estimate for each sorptive number.
void give_band(const HoleTest& test, const Range& steady, const Spread& spread, double absorbed_depth,
               Finding& finding) {

  const AugerHole hole{0.5 * test.diameter, test.sorptive_number.likely};
  const auto excess_with = [&](double fillable) {
    double excess = 1;
    for (int k = 0; k < 20; ++k) { // the presoak's water depends on the conductivity itself
      const double taken = pi * hole.radius * hole.radius * absorbed_depth +
                           presoaked(hole, test, finding.water_depth, steady.likely / excess);
      excess = wetting_excess(hole, finding.water_depth, taken, fillable);
    }
    return excess;
  };
  const double dry = excess_with(test.fillable.high), likely = excess_with(test.fillable.likely);
  const bool soaked = test.presoak >= full_presoak;
  finding.excess = soaked ? 1 : likely;
  const double suction_up = std::log(steady.high / steady.likely),
               suction_down = std::log(steady.likely / steady.low);
  const double wetting_up = soaked ? 0 : std::log(likely);
  const double wetting_down = std::log((soaked ? likely : dry / likely));
  const auto together = [&](double suction, double wetting, double besides) {
    return std::exp(std::sqrt(suction * suction + wetting * wetting + besides * besides +
                              shape_spread * shape_spread + spread.reading * spread.reading));
  };
  const double value = steady.likely / finding.excess;
  finding.conductivity = {value / together(suction_down, wetting_down, spread.down), value,
                          value * together(suction_up, wetting_up, spread.up)};
  finding.overstated = finding.raw_rate / value;
  finding.pull = pull_on(hole, finding.water_depth);
}

Finding reduce_rate(const HoleTest& test) {
  Finding finding;
  if (test.rate_depth > test.most_water_depth) {
    finding.outcome = Outcome::other_layer;
    return finding;
  }
  finding.raw_rate = test.rate;
  finding.water_depth = test.rate_depth;
  const auto steady = [&](double sorptive) {
    return test.rate / overstatement({0.5 * test.diameter, sorptive}, test.rate_depth);
  };
  const Range& sorptive = test.sorptive_number;
  give_band(test, {steady(sorptive.low), steady(sorptive.likely), steady(sorptive.high)}, {bare_rate_spread},
            0.5 * test.rate_depth, finding);
  return finding;
}

// A hole that was empty by the next look ran dry at some time of that fall, one as likely as another: the
// fall spread over the whole time gives the least that the ground conducts, half the time the likely value,
// nine tenths and a tenth of it the ends.
Finding reduce_emptied(const HoleTest& test, const Fall& fall) {
  constexpr double likely_share = 0.5, longest_share = 0.9, shortest_share = 0.1;
  Finding finding;
  finding.emptied = true;
  const double duration = likely_share * fall.duration;
  finding.raw_rate = fall.from / duration;
  finding.water_depth = 0.5 * fall.from;
  const auto steady = [&](double sorptive) {
    return conductivity_time({0.5 * test.diameter, sorptive}, fall.from, 0) / duration;
  };
  const Range& sorptive = test.sorptive_number;
  give_band(test, {steady(sorptive.low), steady(sorptive.likely), steady(sorptive.high)},
            {reading_share(test, fall.from), std::log(longest_share / likely_share),
             std::log(likely_share / shortest_share)},
            fall.absorbed, finding);
  return finding;
}

// Falls whose end was seen, two readings or more with water in the hole.
Finding reduce_falls(const HoleTest& test, const std::vector<Fall>& falls) {
  Finding finding;
  const AugerHole likely{0.5 * test.diameter, test.sorptive_number.likely};
  const Pool all = pool(likely, falls, 0);
  if (all.fallen <= 2 * test.reading_error) {
    finding.outcome = Outcome::no_fall;
    finding.water_depth = all.depth_time / all.duration;
    const AugerHole coarse{likely.radius, test.sorptive_number.high};
    finding.conductivity.high =
        2 * test.reading_error / all.duration / overstatement(coarse, finding.water_depth);
    return finding;
  }
  const std::size_t first = steady_from(likely, test, falls);
  const Pool used = pool(likely, falls, first);
  finding.slowing = first > 0 && pool(likely, falls, 0).conductivity() > used.conductivity();
  finding.raw_rate = used.fallen / used.duration;
  finding.water_depth = used.depth_time / used.duration;
  const auto steady = [&](double sorptive) {
    return pool({likely.radius, sorptive}, falls, first).conductivity();
  };
  const Range& sorptive = test.sorptive_number;
  give_band(test, {steady(sorptive.low), used.conductivity(), steady(sorptive.high)},
            {reading_share(test, used.fallen)}, used.absorbed_time / used.duration, finding);
  return finding;
}

} // namespace

Finding reduce(const HoleTest& test) {
  require(test);
  if (test.rate > 0) return reduce_rate(test);
  Finding finding;
  const AugerHole likely{0.5 * test.diameter, test.sorptive_number.likely};
  std::vector<Fall> falls = falls_of(test);
  if (!falls.empty() && find_rise(test, falls, finding)) return finding;
  std::erase_if(falls, [&](const Fall& fall) { return fall.from > test.most_water_depth; });
  if (falls.empty()) {
    finding.outcome = Outcome::other_layer;
    return finding;
  }
  // An empty hole says nothing more, however long it is watched.
  std::erase_if(falls, [&](const Fall& fall) { return fall.from <= test.reading_error; });
  if (falls.empty()) {
    finding.outcome = Outcome::empty;
    return finding;
  }
  std::vector<Fall> emptied;
  std::erase_if(falls, [&](const Fall& fall) {
    if (fall.to > 1e-6) return false; // m
    emptied.push_back(fall);
    return true;
  });
  if (falls.empty()) return reduce_emptied(test, emptied.back());
  if (find_rest(likely, test, falls, finding)) return finding;
  finding = reduce_falls(test, falls);
  if (emptied.empty()) return finding;
  // Falls that were seen whole tell more, unless the hole ran dry sooner than they let expect.
  const Fall& last = emptied.back();
  const double least = through(likely, last) / last.duration;
  const double seen = finding.outcome == Outcome::conductivity ? pool(likely, falls, 0).conductivity() : 0;
  return least > (1 + agree_within) * seen ? reduce_emptied(test, last) : finding;
}

} // namespace lowspot::measure
