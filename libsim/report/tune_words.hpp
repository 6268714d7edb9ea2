// What a search among the combinations of [tune] found, in plain words.
#pragma once
#include <string>
#include <vector>

#include <lowspot/report/units.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/study/tune.hpp>

namespace lowspot::report {

// Digging as crews count it: cubic yards or cubic metres.
Unit dig_unit(const site::Site& site);
// "2.9 yd3 to dig", with the cost in front where there are rates.
std::string size_words(const site::Site& site, const study::Works& works);
// "'long bed' stands about 32 hours after the rain; agreed was at most about a day", or why it cannot be
// built; empty for one that works or was not run.
std::string failure_words(const study::Tried& tried);
// The answer: the smallest that does it and why the next smaller fails, or that none does.
std::string tune_headline(const site::Site& site, const study::Tuning& tuning);
// Where the curve bends, and what each step along it costs and buys.
std::vector<std::string> step_words(const site::Site& site, const study::Tuning& tuning);
// Where none works or some cannot be built: which limit stops how many, how near the nearest comes, and what
// would let it through.
std::vector<std::string> stop_words(const site::Site& site, const study::Tuning& tuning);
// How the answer was found and how far it can be trusted.
std::string method_words(const site::Site& site, const study::Tuning& tuning);
// Whether any combination was run, so that there are figures.
bool any_run(const study::Tuning& tuning);
// "2.67 cu yd"; a dash where the combination could not be laid out, so that nobody knows.
std::string dig_text(const site::Site& site, const study::Tried& tried);
// Why no cost is told though there are prices; empty where there is none, or costs are told.
std::string cost_note(const site::Site& site, const study::Tuning& tuning);
// Which limits of codes and practice the search looks at, and which only `compare` does.
std::string limits_note();
// Over stop_words(): what stops the others, or them, where none works.
std::string stop_heading(const study::Tuning& tuning);

} // namespace lowspot::report
