// What kind of wet a place is: water on the ground, water in the soil over the tight layer, or both; how to
// tell them apart on site, and the most that each kind of fix could take away.
#pragma once
#include <string>
#include <vector>

#include <lowspot/results/record.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::study {

// What kind of wet.
enum class Wet { no, surface, perched, both };
std::string
wet_name(Wet wet); // "not wet", "surface water", "water in the soil", "surface water and water in the soil"

// A puddle shorter than this is rain running off [h].
constexpr double least_puddle_hours = 1;
// Soil that is full to within 4 in of the ground for less than this still counts as draining [h].
constexpr double least_soggy_hours = 12;

// By the hours that a puddle stands after the rain and that the soil is full to within 4 in of the ground.
Wet kind_of_wet(double puddle_hours, double soggy_hours);

// What would take most of a place's water away.
struct BestFix {
  std::string what;   // "pipe the water of house, east downspout away"
  std::string source; // that it acts on
  double share = 0;   // of the place's water at its fullest that it could take away at best, 0..1
};

// One place with the kind of wet that it is.
struct WetPlace {
  std::string name, kind;     // "area" or "low spot"
  Wet wet = Wet::no;          // as judged by the hours
  double puddle_hours = 0;    // after the rain
  bool still = false;         // the puddle is still there when the simulated time ends
  double soggy_hours = 0;     // mean over the place, rain included; 0 on a slab
  std::string finding;        // one plain sentence
  std::string test;           // what to look at on site, and what each answer would mean
  std::vector<BestFix> fixes; // largest first; empty when sources were not followed, or only the soil is wet
};

// Every area and each of the larger low spots (at most `most_low_spots`), those that are not wet included.
// comparison.low_spots and record (the yard as it is) say what was simulated.
std::vector<WetPlace> judge_wet_places(const site::Site& site, const results::Comparison& comparison,
                                       const results::DesignRecord& record, std::size_t most_low_spots = 5);

} // namespace lowspot::study
