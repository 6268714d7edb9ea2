// A combination made into works that can be built, with what they take, or the reason why they cannot.
#pragma once
#include <string>

#include <lowspot/job/takeoff.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/study/variation.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::study {

// What works take, from the cut sheet and the take-off.
struct Works {
  double length = 0;           // of trench [m]
  double dig = 0;              // dug, in place: trenches and wells [m3]
  double stone = 0;            // m3
  double deepest = 0;          // m
  double pipe = 0;             // largest inside diameter [m]
  double cost = job::unpriced; // in the currency of the site; not a number: no price is known
  int without_price = 0;       // lines of the take-off; only where there is a cost
};

// One combination of what may vary, built.
struct Candidate {
  Choice choice;       // from the lists of [tune]
  std::string name;    // the combination in words
  site::Design design; // with that changed
  Works works;         // what it takes, when it can be built
  // Empty: it can be built. Otherwise the limit in a word ("fall", "cover", "trench depth", "room", "place",
  // "drain"), a sentence, and by how much it is missed (m, or m/m for a fall; not a number: no measure).
  std::string limit, refused;
  double missed_by = site::not_given; // how far from the limit
  bool can_be_built() const { return refused.empty(); }
};

// What a design takes. ground: of the yard as it is, or with the regrading of the design done. Only rates of
// the site that name one of its own items are used. Throws InputError when it cannot be built.
Works works_of(const site::Site& site, const site::Design& design, const terrain::Ground& ground);

// The design of [tune] with a combination's parts, moved, levelled and checked against the limits of [tune].
// ground: with the design's own regrading done.
Candidate make_candidate(const site::Site& site, const terrain::Ground& ground, const Choice& choice);

// By cost where there are rates, else by what is dug, and of the same by pipe size and name; what has no
// figures comes last.
bool smaller(const Candidate& a, const Candidate& b);

} // namespace lowspot::study
