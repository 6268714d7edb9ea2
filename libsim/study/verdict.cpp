#include <lowspot/study/verdict.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include <lowspot/base/text.hpp>
#include <lowspot/results/target.hpp>
#include <lowspot/study/limits_not_kept.hpp>
#include <lowspot/study/missed_hours.hpp>

namespace lowspot::study {
namespace {
using results::AreaRecord;
using results::Comparison;
using results::DesignRecord;
using results::DrainRecord;

// The run that works hardest for its size.
const DrainRecord* busiest_run(const DesignRecord& design) {
  const DrainRecord* busiest = nullptr;
  const auto share = [](const DrainRecord& run) {
    return run.full_flow_capacity > 0 ? run.peak_flow / run.full_flow_capacity : 0;
  };
  for (const DrainRecord& run : design.drains)
    if (!busiest || share(run) > share(*busiest)) busiest = &run;
  return busiest;
}

// What the outlet is where all of the water goes to one kind.
std::string outlet_phrase(const DesignRecord& design) {
  std::size_t pumps = 0, wells = 0;
  for (const results::VesselRecord& vessel : design.vessels) {
    pumps += vessel.kind == "pump" ? 1 : 0;
    wells += vessel.kind == "dry well" ? 1 : 0;
  }
  if (pumps > 0 && pumps == design.outlets.size()) return "the pump: more comes than it lifts";
  if (wells > 0 && wells == design.outlets.size()) return "the dry well: it is full";
  return "the outlet";
}

std::string limit_phrase(const DesignRecord& design, const std::string& member) {
  const std::map<std::string, std::string> phrases = {
      {"cap", "what lies over the stone (the cap)"},
      {"fabric", "how fast the soil and the fabric let water through"},
      {"stone", "flow along the stone"},
      {"slots", "the openings of the pipe"},
      {"pipe", "the size of the pipe"},
      {"outlet", outlet_phrase(design)},
  };
  const auto known = phrases.find(member);
  return known == phrases.end() ? member : known->second;
}

// "'patio' stands about 6 hours after the rain" without its first word.
std::string standing_phrase(const results::Standing& place, double limit_hours, double end_hours) {
  if (!place.still)
    return "stands " + missed_plain_hours(place.hours, limit_hours) +
           (place.hours > 0 ? " after the rain" : "");
  const std::string text = "still stands when the simulated time ends, ";
  return text + (end_hours > 0 ? plain_hours(end_hours) + " after the rain" : "no later than the rain");
}

std::string pipe_sentence(const DesignRecord& design) {
  const DrainRecord* run = busiest_run(design);
  if (!run || run->full_flow_capacity <= 0) return "";
  const double share = run->peak_flow / run->full_flow_capacity;
  std::string text;
  if (run->surcharged > 60)
    text = " The pipe of '" + run->name + "' runs full for " + plain_hours(run->surcharged / 3600) + ".";
  else if (share < 0.005)
    text = " Hardly any water reaches the pipe.";
  else
    text = " At its peak the pipe carries " + rounded(100 * share, 2) + " % of what it can.";
  const std::string member = limiting_member(design);
  if (member != "nothing") text += " What limits the drain is " + limit_phrase(design, member) + ".";
  return text;
}

// Soggy is not a puddle: said where the ground stays soft well after the last puddle has gone, and well past
// the target.
std::string soggy_sentence(const DesignRecord& design, double clear_within) {
  const AreaRecord* softest = nullptr;
  for (const AreaRecord& area : design.areas)
    if (area.judged && (!softest || area.soggy_hours_after_rain > softest->soggy_hours_after_rain))
      softest = &area;
  if (!softest) return "";
  const double soft = softest->soggy_hours_after_rain;
  if (soft * 3600 <= clear_within || soft < 1.5 * softest->standing_hours_after_rain) return "";
  const std::string place =
      softest->under_slab ? " under '" + softest->name + "'" : " of '" + softest->name + "'";
  return " Soggy is another matter: the ground" + place + " stays full of water for " +
         hours_at_least(soft, softest->still_soggy) + ", puddle or not.";
}

// Promises about beds that are not kept.
std::string bed_sentence(const Comparison& comparison, const DesignRecord& design, const std::string& when) {
  std::string text;
  for (const results::Judged& miss : results::misses(comparison, design)) {
    if (miss.promise == results::Promise::standing) continue;
    text += " " + when + " the bed '" + miss.place + "' ";
    text += miss.promise == results::Promise::soggy_bed ? "has its roots in full ground for "
                                                        : "is short of water for ";
    // What has not lasted too long so far may still do so.
    const bool so_far = miss.open_ended && miss.found <= miss.limit;
    text += (so_far ? plain_hours(miss.found / 3600) + " up to the end of the simulated time, and perhaps on"
             : miss.open_ended ? hours_at_least(miss.found / 3600, true)
                               : missed_plain_hours(miss.found / 3600, miss.limit / 3600)) +
            "; agreed was at most " + plain_hours(miss.limit / 3600) + ".";
  }
  return text;
}

// A drain whose end may be buried is not called enough without saying so.
std::string buried_sentence(const DesignRecord& design) {
  std::string text;
  for (const results::CheckRecord& check : buried_ends(design))
    text += " Whether anything runs out at '" + check.about + "' is UNKNOWN: " + check.found +
            "; shoot the ground beyond it.";
  return text;
}

// What moves the water may still not be fit to build: said in the first sentence, with the first of the other
// designs that does both, if any.
std::string met_sentence(const Comparison& comparison, const DesignRecord& best) {
  const std::string misses = not_kept_words(limits_not_kept(comparison, best));
  if (misses.empty()) return "'" + best.name + "' is enough: ";
  std::string text = "'" + best.name + "' moves the water, but " + misses + ". ";
  for (std::size_t k = 1; k < comparison.designs.size(); ++k) {
    const DesignRecord& other = comparison.designs[k];
    if (!results::meets_target(comparison, other) || !limits_not_kept(comparison, other).empty()) continue;
    return text + "'" + other.name + "' moves it, too, and keeps them all. With '" + best.name + "', ";
  }
  return text + "With it, ";
}

} // namespace

std::string limiting_member(const DesignRecord& design) {
  std::map<std::string, double> hours;
  for (const DrainRecord& run : design.drains)
    for (const auto& [name, time] : run.limit_hours) hours[name] = std::max(hours[name], time);
  std::string longest = "nothing";
  double most = 0;
  for (const auto& [name, time] : hours)
    if (time > most) {
      most = time;
      longest = name;
    }
  return longest;
}

std::string plain_hours(double hours) {
  if (hours <= 0) return "only while it rains";
  if (hours < 0.75) return "less than an hour";
  if (hours < 1.5) return "about an hour";
  if (hours < 10) return "about " + std::to_string(std::lround(hours)) + " hours";
  if (hours < 72) return "about " + std::to_string(std::lround(hours / 2) * 2) + " hours";
  const double days = hours / 24;
  return "about " + (days < 10 ? rounded(std::round(days * 2) / 2, 2) : std::to_string(std::lround(days))) +
         " days";
}

std::string hours_after_rain(double hours) {
  return plain_hours(hours) + (hours > 0 ? " after the rain" : "");
}

std::string place_name(const std::string& place) {
  return place.rfind("the ", 0) == 0 ? place : "'" + place + "'";
}

std::string hours_at_least(double hours, bool open) {
  if (!open) return plain_hours(hours);
  return hours < 1 ? "as long as it is followed" : "more than " + plain_hours(whole_steps_of(hours));
}

std::string hours_between(double low, double high, bool open) {
  if (open && high < 1) return hours_at_least(high, open);
  if (open) high = whole_steps_of(high), low = std::min(low, high);
  const std::string least = plain_hours(low), most = plain_hours(high);
  if (open) {
    const std::string more = "more than " + most.substr(most.rfind("about ", 0) == 0 ? 6 : 0);
    return low <= 0 ? more : least == most ? least + " or more" : least + " to " + more;
  }
  if (least == most) return least;
  return low > 0 ? least + " to " + most : "up to " + most;
}

results::Verdict make_verdict(const Comparison& comparison) {
  results::Verdict verdict;
  const DesignRecord& as_is = comparison.designs.front();
  const double end_hours = ((as_is.time.empty() ? 0 : as_is.time.back()) - comparison.end_of_rain) / 3600;
  const std::string target = plain_hours(comparison.clear_within / 3600);
  const results::Standing worst =
      results::longest_standing(as_is, comparison.clear_within, comparison.end_of_rain);
  const std::string place = place_name(worst.place);
  const auto stands_at = [&](const DesignRecord& design, const std::string& where) {
    const std::vector<results::Standing> all =
        results::standing_of(design, comparison.clear_within, comparison.end_of_rain);
    const auto same = std::find_if(all.begin(), all.end(),
                                   [&](const results::Standing& one) { return one.place == where; });
    return standing_phrase(same == all.end() ? all.front() : *same, comparison.clear_within / 3600,
                           end_hours);
  };
  const auto stands = [&](const DesignRecord& design) { return stands_at(design, worst.place); };
  const auto longest = [&](const DesignRecord& design) {
    const results::Standing one =
        results::longest_standing(design, comparison.clear_within, comparison.end_of_rain);
    return std::pair(one.still, one.hours);
  };
  if (results::meets_target(comparison, as_is)) {
    verdict.design = as_is.name;
    verdict.target_met = true;
    verdict.limited_by = "nothing";
    verdict.sentence = "As it is, the yard already clears within the target of " + target +
                       " in this storm: " + place + " " + stands(as_is) + ".";
    verdict.sentence += soggy_sentence(as_is, comparison.clear_within);
    return verdict;
  }
  if (comparison.designs.size() == 1) {
    verdict.design = as_is.name;
    verdict.limited_by = "nothing";
    verdict.sentence =
        std::string("As it is, the yard ") +
        (results::clears(as_is, comparison.clear_within, comparison.end_of_rain) ? "clears"
                                                                                 : "does not clear") +
        " within the target of " + target + ": " + place + " " + stands(as_is) + ".";
    verdict.sentence += bed_sentence(comparison, as_is, "But") + " No design was given to compare with.";
    return verdict;
  }
  const DesignRecord* best = &comparison.designs[1];
  for (std::size_t k = 1; k < comparison.designs.size() && !verdict.target_met; ++k) {
    const DesignRecord& design = comparison.designs[k];
    if (results::meets_target(comparison, design)) {
      best = &design;
      verdict.target_met = true;
    } else if (longest(design) < longest(*best)) {
      best = &design;
    }
  }
  verdict.design = best->name;
  verdict.limited_by = limiting_member(*best);
  if (verdict.target_met)
    verdict.sentence = met_sentence(comparison, *best) + place + " " + stands(*best) + "; as it is, it " +
                       stands(as_is) + ". The target is " + target + ".";
  else {
    const bool clears = results::clears(*best, comparison.clear_within, comparison.end_of_rain);
    // The place that still misses the target need not be the one that is worst as the yard is.
    const std::string where =
        clears ? worst.place
               : results::longest_standing(*best, comparison.clear_within, comparison.end_of_rain).place;
    verdict.sentence =
        (clears ? "No design keeps all that was agreed." : "No design meets the target of " + target + ".") +
        " With the best of them, '" + best->name + "', " + place_name(where) + " " + stands_at(*best, where) +
        "; as it is, it " + stands_at(as_is, where) + ".";
    if (const std::string misses = not_kept_words(limits_not_kept(comparison, *best)); !misses.empty())
      verdict.sentence += " Besides, with '" + best->name + "' " + misses + ".";
  }
  verdict.sentence += buried_sentence(*best);
  if (results::clears(as_is, comparison.clear_within, comparison.end_of_rain))
    verdict.sentence += bed_sentence(comparison, as_is, "As it is,");
  verdict.sentence += bed_sentence(comparison, *best, "With '" + best->name + "',");
  verdict.sentence += pipe_sentence(*best);
  verdict.sentence += soggy_sentence(*best, comparison.clear_within);
  return verdict;
}

} // namespace lowspot::study
