// Cautions for those who dig.
#include <algorithm>

#include <lowspot/job/deepest.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/sections.hpp>
#include <lowspot/site/rule_length.hpp>
#include <lowspot/site/trench_rules.hpp>

namespace lowspot::report {
namespace {

// Deepest trench or pit of a design below the ground beside it [m]: from profiles, or as given.
double deepest(const Page& page, const site::Design& design) {
  double most = job::deepest_pit(design);
  for (const results::DesignRecord& record : page.comparison().designs) {
    if (record.name != design.name) continue;
    for (const results::RunProfileRecord& profile : record.profiles)
      for (std::size_t k = 0; k < profile.ground.size(); ++k) {
        if (k < profile.invert.size()) most = std::max(most, profile.ground[k] - profile.invert[k]);
        if (k < profile.trench_bottom.size())
          most = std::max(most, profile.ground[k] - profile.trench_bottom[k]);
      }
  }
  for (const site::Run& run : design.runs)
    if (run.trench_depth > most) most = run.trench_depth;
  return most;
}

// " is about 5 ft, in \"dry well\" (1.7 ft in \"to the curb\", which is proposed)": whose it is, where
// designs differ.
std::string how_deep(const Page& page, const std::string& whose, double depth) {
  const Unit& unit = page.units().length;
  std::string text = " is about " + amount(depth, unit);
  if (page.site().designs.size() < 2) return text + ". ";
  text += ", in \"" + whose + "\"";
  const std::string& chosen = page.comparison().verdict.design;
  for (const site::Design& design : page.site().designs)
    if (design.name == chosen && chosen != whose)
      text += " (about " + amount(deepest(page, design), unit) + " in \"" + chosen + "\", which is proposed)";
  return text + ". ";
}

std::string rule(const Page& page, double feet) {
  return site::rule_length(feet, !page.units().metric);
}

std::string trench_warning(const Page& page) {
  double depth = 0;
  std::string whose;
  for (const site::Design& design : page.site().designs)
    if (const double own = deepest(page, design);
        own > depth || (own == depth && design.name == page.comparison().verdict.design))
      depth = own, whose = design.name;
  if (depth <= 0) return "";
  const double way_out = site::way_out_from(page.site()).depth,
               protect = site::protected_from(page.site()).depth;
  std::string html = depth >= std::min(way_out, protect) ? "<p class=\"alert\">" : "<p>";
  html += "The deepest trench or pit here" + escape(how_deep(page, whose, depth));
  if (depth >= protect)
    html += "At this depth nobody enters without a protective system chosen by a competent person: this is "
            "not routine "
            "work.";
  else if (depth >= way_out)
    html += "At this depth a ladder or another way out must be within " + rule(page, 25) +
            " of anyone in the trench.";
  else
    html += "Shallow trenches cave in too: never enter a wet one alone.";
  return html + "</p>\n";
}

} // namespace

std::string digging_section(const Page& page) {
  return trench_warning(page) + "<div class=\"twice\">" +
         list({"Have all utilities located before any digging, even shallow or by hand, and wait as long as "
               "the law of "
               "your state says. Marks are approximate: dig by hand beside them.",
               "Private lines (sprinklers, gas to a grill, lighting, pool, dog fence) are not marked by the "
               "public "
               "service: ask the owner, or hire a locator.",
               "If a line is hit: leave, call, do not backfill.",
               "Trench depth: at " + site::way_out_from(page.site()).written + " a ladder within " +
                   rule(page, 25) + "; at " + site::protected_from(page.site()).written +
                   ", or less where the sides may cave in, a protective system. Spoil and machines stay " +
                   rule(page, 2) + " from the edge. Inspect daily and after rain.",
               "Footings: stay outside a line that falls at 45 degrees from the bottom of the footing, "
               "unless an "
               "engineer agrees. Do not open a trench along the whole length of a footing.",
               "Trees: roots cut inside about twelve times the width of the trunk can kill or fell a tree "
               "years "
               "later. Other "
               "people's trees and protected ones need permission.",
               "Stop for water in the trench, a smell of sewage, rock, or clay that smears: a smeared wall "
               "takes in "
               "less water.",
               "Start at the outlet and work uphill; check the grade every " +
                   (page.units().metric ? std::string("1.5 to 3 m") : std::string("5 to 10 ft")) +
                   "; no backfall. Test with water before covering."}) +
         "</div>\n";
}

} // namespace lowspot::report
