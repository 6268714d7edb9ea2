// One combination of what [tune] lets vary, and the parts of a design that it exchanges.
#pragma once
#include <string>
#include <vector>

#include <lowspot/site/site.hpp>

namespace lowspot::study {

// The place in each list of site::TuneLists; -1: as in the design.
struct Choice {
  int pipe = -1, depth = -1, width = -1, cap = -1, offset = -1, fall = -1, stone = -1; // places in TuneLists
};

// Every combination, the last list turning fastest. Throws InputError when there are more than 20 000.
std::vector<Choice> all_choices(const site::Site& site);

// "3 in corrugated, slotted; 14 in deep; sod": what makes this combination, in the site's units.
std::string choice_name(const site::Site& site, const Choice& choice);

// Runs that a choice is about: those in stone, or all where no run of the design lies in stone. None that
// stands from an earlier stage: it is not laid again for nothing.
std::vector<bool> varied_runs(const site::Design& design);

// Pipe, stone, cap and width exchanged. Solid runs get the new pipe's size where they had that of the varied
// runs, and where what feeds them would be larger than they are, unless they stand already. The path and the
// levels stay.
void exchange_parts(const site::Site& site, const Choice& choice, site::Design& design);

// Caps made of what lies beside the varied runs, topsoil or stone, as it is where these now are.
void settle_caps(const site::Site& site, const std::vector<bool>& varied, site::Design& design);

// The design of the site that [tune] varies.
const site::Design& tuned_design(const site::Site& site);

} // namespace lowspot::study
