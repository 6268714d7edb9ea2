// One hole test reduced to a conductivity with its band: falling levels, or a bare rate of fall.
#pragma once
#include <limits>
#include <string>
#include <vector>

#include <lowspot/measure/auger_hole.hpp>

namespace lowspot::measure {

// Low, likely and high: P10, P50, P90.
struct Range {
  double low = 0, likely = 0, high = 0; // in the unit of what it bands
};

// Sorptive number alpha* of ground whose structure is not known [1/m]: 4 fine without structure, 12 most
// structured soils, 36 coarse (Elrick, Reynolds and Tan 1989).
inline constexpr Range usual_sorptive_number{4, 12, 36};

// One look at the water in the hole.
struct Reading {
  double time = 0;        // s
  double water_depth = 0; // m over the bottom
  bool refilled = false;  // the hole was filled up before this reading: a new fall begins
};

// What was done and seen at one hole.
struct HoleTest {
  double diameter = 0;           // m
  std::vector<Reading> readings; // times rise
  // A rate of fall in place of readings [m/s, 0: none] and the mean depth of water that it was seen at [m].
  double rate = 0;
  // As it was seen with `rate` [m].
  double rate_depth = 0;
  double presoak = 0;                            // s that the hole was kept full beforehand
  Range fillable{0.05, 0.15, 0.3};               // pores that the water filled around the hole [m3/m3]
  Range sorptive_number = usual_sorptive_number; // alpha* of the ground around the hole [1/m]
  double reading_error = 0.0016;                 // m, of one reading: a sixteenth of an inch
  // Water deeper than this [m] wets another layer: such falls are left out.
  double most_water_depth = std::numeric_limits<double>::infinity();
};

// What a test came to.
enum class Outcome {
  conductivity, // a band stands in the finding
  perched,      // the level rose, or came to rest with water in the hole: ground water, not slow soil
  no_fall,      // no fall that can be told from reading errors; conductivity.high is the most it can be
  other_layer,  // the water stood in another layer all the time
  empty         // no water stood in it at the beginning of any fall
};

// What a test says of the ground.
struct Finding {
  Outcome outcome = Outcome::conductivity; // which of the figures below hold
  Range conductivity;                      // m/s
  double raw_rate = 0;                     // m/s, of the readings used
  double water_depth = 0;                  // m, mean over the readings used
  double overstated = 0;                   // raw rate over likely conductivity
  Pull pull;                               // at the mean depth, for the likely sorptive number
  double resting_at = 0;                   // m, where a perched level stands
  bool rose = false;                       // perched: the level went up
  bool slowing = false;                    // early readings were faster and were left out
  // The hole had run dry by the next reading: when is not known, the raw rate is the likely one, the band
  // wide.
  bool emptied = false;
  double excess = 1; // by which dry soil quickened the fall, taken off the likely value
};

// A presoak from this time on [s] is taken as steady flow: the usual rule of four hours.
inline constexpr double full_presoak = 4 * 3600.0;

// The band takes in the sorptive number, the shape factor, reading errors and what dry soil adds; each part
// moves the logarithm, and parts are added as squares. Needs a diameter > 0 and either a rate at a depth > 0
// or two readings or more with times that rise, all of them numbers, and bands in order; throws
// std::invalid_argument otherwise.
Finding reduce(const HoleTest& test);

} // namespace lowspot::measure
