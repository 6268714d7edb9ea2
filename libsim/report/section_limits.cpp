// What the model leaves out, and how far it may be trusted.
#include <lowspot/report/html.hpp>
#include <lowspot/report/sections.hpp>
#include <lowspot/site/rule_length.hpp>

namespace lowspot::report {

std::string limits_section(const Page& page) {
  return list({"A planning aid: not a survey, not an engineer's certification unless sealed by one, not a "
               "guarantee.",
               "It leaves out cracks and worm holes, moles, frozen ground, damaged pipe, and the ground "
               "beyond the "
               "outline. The conductivity of the tight layer is rarely known within a factor of ten, and it "
               "rules the "
               "hours: one test hole with a standing level after a day narrows them more than anything else.",
               "It holds for the storm and the wetness at the start that are named here. A bigger storm "
               "stands longer.",
               "Rules quoted here are examples: the local code governs.",
               "Soil that swells, steep or slipping ground, retaining walls above " +
                   site::rule_length(4, !page.units().metric) +
                   ", water under the house or in a floodplain: ask an engineer. A dry well or rain garden "
                   "near a house or a slope can make "
                   "things worse."});
}

} // namespace lowspot::report
