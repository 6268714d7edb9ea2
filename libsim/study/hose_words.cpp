#include <lowspot/study/hose_words.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

#include <lowspot/base/text.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::study {
namespace {

// "7 minutes", "40 seconds", "2.5 hours": no finer than a person with a watch at the outlet can tell.
std::string span(double seconds) {
  if (seconds < 90) return rounded(std::ceil(seconds / 10) * 10, 2) + " seconds";
  if (seconds < 5400) return rounded(seconds / 60, 2) + " minutes";
  return rounded(seconds / 3600, 2) + " hours";
}

std::string flow_text(const site::Site& site, double flow) {
  return site::written(flow, Dimension::flow, site);
}

std::string volume_text(const site::Site& site, double volume) {
  // A cubic metre is too coarse for a hose.
  if (site.units != "ft") return rounded(volume * 1000, 2) + " L";
  return rounded(volume / 0.00378541, 2) + " gal";
}

// Outlets of several at which water is seen, the first to run first; none where there is but one.
std::vector<const HoseOutlet*> running(const HoseTest& test) {
  std::vector<const HoseOutlet*> list;
  if (test.outlets.size() < 2) return list;
  for (const HoseOutlet& outlet : test.outlets)
    if (!std::isnan(outlet.first_water)) list.push_back(&outlet);
  std::stable_sort(list.begin(), list.end(),
                   [](const HoseOutlet* a, const HoseOutlet* b) { return a->first_water < b->first_water; });
  return list;
}

// "'a' and 'b'" of the outlets that stay dry.
std::string dry_ones(const HoseTest& test) {
  std::vector<std::string> names;
  for (const HoseOutlet& outlet : test.outlets)
    if (std::isnan(outlet.first_water) && !outlet.fills) names.push_back("'" + outlet.name + "'");
  std::string text;
  for (std::size_t k = 0; k < names.size(); ++k)
    text += (k == 0 ? "" : k + 1 == names.size() ? " and " : ", ") + names[k];
  return text;
}

// What is seen at each of several outlets after the first.
std::string at_the_others(const HoseTest& test) {
  const std::vector<const HoseOutlet*> wet = running(test);
  if (wet.empty()) return "";
  std::string text;
  for (std::size_t k = 1; k < wet.size(); ++k)
    text += " At '" + wet[k]->name + "' it comes after about " + span(wet[k]->first_water) + ".";
  const std::string dry = dry_ones(test);
  if (!dry.empty())
    text +=
        " None comes out of " + dry + ": to test the way there, lay the hose on the line that leads to it.";
  return text;
}

std::string percent_of(double part, double whole) {
  return rounded(100 * part / whole, 2) + " %";
}

// Water in a pit or basin while the test runs.
std::string well_text(const site::Site& site, const HoseTest& test) {
  constexpr double seen = 1e-3; // m
  if (test.well_depth < seen) return "hardly any water comes to '" + test.well + "' while the hose runs";
  return "the water in '" + test.well + "' rises to " +
         site::written(test.well_depth, Dimension::length, site) + " of its " +
         site::written(test.well_whole, Dimension::length, site);
}

std::string nothing_arrives(const site::Site& site, const HoseTest& test) {
  const bool lies_there = test.over_trench || test.at_grate;
  if (!test.takes_in)
    return "No water comes out: these works take in nothing but roof water, so that a hose on the ground "
           "tells nothing "
           "of them. Run it into the gutter or down the downspout that leads to them, and watch the outlet "
           "or the pit.";
  if (!std::isnan(test.weep_first) && test.well.empty())
    return "No water comes up at the lid: the weep hole takes all that reaches it. To see that the way is "
           "open, " +
           std::string(lies_there ? "" : "lay the hose on the trench and ") +
           "give it more water, or open the lid and look in.";
  if (test.well.empty())
    return "No water comes out of " + std::string(test.outlets.size() > 1 ? "any outlet" : "the outlet") +
           ": what the hose gives stays in the low spot, in the stone or in "
           "the ground. " +
           (lies_there ? "Let it run longer, or give it more water."
                       : "Lay the hose on the trench, or let it run longer.");
  if (test.outlets.size() > 1)
    return "No water comes out of any outlet, but a pit or basin may fill. Watch there: " +
           well_text(site, test) + ".";
  return "No water comes out: the drain ends in a pit or basin, which only fills. Watch there: " +
         well_text(site, test) + ".";
}

// What comes out in the end.
std::string last_words(const site::Site& site, const HoseTest& test) {
  const std::string share = percent_of(test.last_flow, test.flow) + " of what the hose gives";
  const std::string flow = flow_text(site, test.last_flow);
  if (test.cycles > 1)
    return " The pump starts and stops: it runs " + std::to_string(test.cycles) +
           " times while the hose runs, and over its last cycles " + flow + " comes out on the mean, " +
           share + ". In '" + test.well + "' the water stands up to " +
           site::written(test.well_depth, Dimension::length, site) + " deep.";
  if (test.cycles == 1 && !test.steady)
    return " The pump starts and stops, and has run once when the hose is shut: a longer test would show "
           "what "
           "it lifts over several cycles.";
  return " At the end of the test " + flow + " comes out" +
         (running(test).size() > 1 ? " of the outlets together, " : ", ") + share +
         (test.steady ? ": it has become steady." : "; it is not steady yet: a longer test would show more.");
}

std::string arrival(const site::Site& site, const HoseTest& test) {
  if (std::isnan(test.first_water)) return nothing_arrives(site, test);
  const std::vector<const HoseOutlet*> wet = running(test);
  const bool lid = wet.empty() ? test.outlets.size() == 1 && test.outlets.front().lid : wet.front()->lid;
  const std::string where = std::string(lid ? "the lid of " : "") +
                            (wet.empty() ? "the outlet" : "the outlet '" + wet.front()->name + "'");
  std::string text = "First water at " + where + " after about " + span(test.first_water) +
                     ", when the drain holds " + volume_text(site, test.held_at_first_water) + ".";
  if (test.first_water >= test.duration) return text + " The hose is shut by then." + at_the_others(test);
  return text + last_words(site, test) + at_the_others(test);
}

std::string afterwards(const HoseTest& test) {
  if (!test.takes_in) return "";
  if (std::isnan(test.first_water) && std::isnan(test.puddle_gone))
    return "The puddle is still there when the watch ends.";
  std::string text;
  const bool several = running(test).size() > 1;
  const std::string which = outlet_words(test), runs = several ? " run on for " : " runs on for ";
  if (!std::isnan(test.first_water))
    text = std::isnan(test.outlet_stops)
               ? "After the hose is shut " + which + runs + "longer than was watched"
           : test.outlet_stops < 10
               ? "T" + which.substr(1) + (several ? " stop" : " stops") + " as soon as the hose is shut"
               : "After the hose is shut " + which + runs + "about " + span(test.outlet_stops);
  const std::string join = text.empty() ? "The puddle" : text + "; the puddle";
  if (std::isnan(test.puddle_gone)) return join + " is still there when the watch ends.";
  return join +
         (test.puddle_gone < 10 ? " is gone at once." : " is gone after " + span(test.puddle_gone) + ".");
}

// What the weep holes of pop-ups do, which is no sign to look for.
std::string out_of_sight(const site::Site& site, const HoseTest& test) {
  if (std::isnan(test.weep_first)) return "";
  const bool several = std::count_if(test.outlets.begin(), test.outlets.end(),
                                     [](const HoseOutlet& one) { return one.lid; }) > 1;
  const std::string it = several ? "they" : "it";
  std::string text = several ? "The weep holes let" : "The weep hole lets";
  text += " water out below the ground from " + span(test.weep_first) + " on, " +
          volume_text(site, test.through_weeps) + " in all, and ";
  text += std::isnan(test.weep_stops) ? it + " still " + (several ? "do" : "does") + " when the watch ends"
          : test.weep_stops < 10      ? it + (several ? " stop" : " stops") + " with the hose"
                                 : (several ? "empty the pipes for about " : "empties the pipe for about ") +
                                       span(test.weep_stops) + " after the hose is shut";
  // Where the gravel cannot swallow that, it comes up beside the lid: so it is computed, and met at the edge.
  return text + ": that goes into the gravel below and is not seen at the lid" +
         (test.over_edges > 0.5 * test.through_weeps
              ? ". It is computed as coming up beside it, as it does where the soil there is tight."
              : ".");
}

std::string whereabouts(const site::Site& site, const HoseTest& test) {
  if (!test.takes_in) return "";
  const double in_stone = test.in_drain - test.in_wells, little = 0.001 * test.given;
  // What comes out on the yard's own ground is met again at its edge.
  const bool in_yard = test.by_outlets < little && test.through_outlets > little;
  std::string text = "Of the " + volume_text(site, test.given) + ", ";
  // Out of a pit nothing leaves, and there is no outlet to say it of.
  const bool lets_out = test.outlets.size() != 1 || !test.outlets.front().fills || test.by_outlets > little;
  if (!in_yard && lets_out)
    text += volume_text(site, test.by_outlets) + " left the yard by " + outlet_words(test) + ", ";
  text +=
      (std::abs(in_stone) < little ? "nothing" : volume_text(site, in_stone)) + " stayed in stone and pipe";
  if (!test.well.empty())
    text += ", " + (test.in_wells < little ? "nothing" : volume_text(site, test.in_wells)) + " in '" +
            test.well + "'";
  if (test.over_edges > 0.001 * test.given)
    text += ", " + volume_text(site, test.over_edges) + " ran over the edge";
  if (test.on_ground > 0.001 * test.given)
    text += ", " + volume_text(site, test.on_ground) + " wet the ground";
  text += test.to_soil >= 0 ? ", and " + volume_text(site, test.to_soil) + " went into the ground."
                            : "; the ground gave " + volume_text(site, -test.to_soil) + " more.";
  if (in_yard)
    text += running(test).size() > 1
                ? " The outlets lie in the yard: " + volume_text(site, test.through_outlets) +
                      " came out of them."
                : " T" + outlet_words(test).substr(1) +
                      " lies in the yard: " + volume_text(site, test.through_outlets) + " came out of it.";
  return text;
}

} // namespace

std::string outlet_words(const HoseTest& test) {
  if (test.outlets.size() < 2) return "the outlet";
  const std::vector<const HoseOutlet*> wet = running(test);
  return wet.size() == 1 ? "the outlet '" + wet.front()->name + "'" : "the outlets";
}

void describe_hose_test(const site::Site& site, HoseTest& test) {
  test.says = {"A hose of " + flow_text(site, test.flow) + " for " + span(test.duration) + " at " +
                   site::written(test.at, site) + ", " + test.place +
                   (test.at_grate      ? "."
                    : test.over_trench ? ", over the trench."
                    : test.takes_in    ? ", beside the trench."
                                       : ", on the ground."),
               arrival(site, test), afterwards(test), out_of_sight(site, test), whereabouts(site, test)};
  test.says.erase(std::remove(test.says.begin(), test.says.end(), ""), test.says.end());
  test.proves.clear();
  if (!std::isnan(test.first_water))
    test.proves.push_back("It proves that the way from there to " + outlet_words(test) +
                          " is open and falls: much later or much "
                          "less water means a blocked outlet, a belly, an open joint or a sealed cap.");
  else if (!test.well.empty() && test.in_wells > 0.01 * test.given)
    test.proves.push_back("It proves that the way from there to '" + test.well +
                          "' is open and falls: much less water in it means a belly, an open joint or a "
                          "sealed cap.");
  if (test.capacity > 0)
    test.proves.push_back(
        "It does not prove capacity: the hose gives " + rounded(100 * test.flow / test.capacity, 2) +
        " % of the " + flow_text(site, test.capacity) + " that the pipe " +
        (test.well.empty() ? "to " + outlet_words(test) : "to '" + test.well + "'") + " carries when full.");
  test.proves.push_back(
      "It does not prove what the soil gives or takes over days, nor how fabric and cap silt up "
      "in years.");
  if (!test.over_trench && !test.at_grate && test.takes_in)
    test.proves.push_back(
        "The hose lies beside the trench, so the way over and through the ground is part of the "
        "test; for stone and pipe alone lay it on the trench with --at.");
}

} // namespace lowspot::study
