#include <lowspot/report/owner_sheet.hpp>

#include <algorithm>
#include <cmath>
#include <tuple>

#include <lowspot/base/text.hpp>
#include <lowspot/report/foot_words.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/key_figures.hpp>
#include <lowspot/report/map_works.hpp>
#include <lowspot/report/plan_sketch.hpp>
#include <lowspot/report/share_text.hpp>
#include <lowspot/report/storm_words.hpp>
#include <lowspot/results/soggy.hpp>
#include <lowspot/results/target.hpp>
#include <lowspot/site/combine.hpp>
#include <lowspot/site/unknowns.hpp>
#include <lowspot/study/kind_of_wet.hpp>
#include <lowspot/study/limits_not_kept.hpp>
#include <lowspot/study/shares.hpp>
#include <lowspot/study/upkeep.hpp>

namespace lowspot::report {
namespace {

constexpr std::size_t most_areas = 5, most_beds = 3, most_options = 6, most_works = 5, most_words = 520;
constexpr std::size_t most_unknowns = 3;
constexpr std::size_t comfortable = 2950; // letters on the page; more are set in small type

std::string map_of(const SheetScene& scene, const results::DesignRecord& record) {
  PlanSketch plan{scene.map, record};
  plan.water = MapQuantity::standing_hours;
  plan.room = {270, 300};
  return "<figure class=\"sketch\"><figcaption><b>" + escape(short_name(record.name)) +
         "</b>: " + escape(short_name(hours_caption(record), 80)) +
         "</figcaption><img alt=\"Map of the yard: hours that "
         "water stands after the rain.\" src=\"" +
         png_source(sketch_png(plan)) + "\"></figure>\n";
}

std::string maps(const SheetScene& scene) {
  if (scene.built == nullptr) return map_of(scene, scene.as_is);
  return "<div class=\"cols two maps\">" + map_of(scene, scene.as_is) + map_of(scene, *scene.built) +
         "</div>\n";
}

// "the long bed: 47 % rain on patio; 25 % house, west downspout".
std::string sources(const SheetScene& scene) {
  std::vector<std::string> items;
  for (const results::PlaceShares& place : scene.as_is.shares.places) {
    if (place.kind != "area") continue;
    const auto judged =
        std::find_if(scene.as_is.areas.begin(), scene.as_is.areas.end(),
                     [&](const results::AreaRecord& area) { return area.name == place.name && area.judged; });
    if (judged == scene.as_is.areas.end() || judged->max_depth < scene.comparison().standing_depth) continue;
    std::string parts;
    for (const study::SharePart& each : study::largest_first(scene.as_is.shares, place.at_peak)) {
      if (each.share < 0.05) break;
      parts +=
          (parts.empty() ? "" : "; ") + unbroken(share_text(each.share)) + " " + short_name(each.source, 36);
    }
    if (!parts.empty()) items.push_back(as_sentence(short_name(place.name) + ": " + parts));
  }
  if (scene.as_is.shares.places.empty())
    return paragraph("The sources of the water were not followed in this run.");
  if (items.empty())
    return paragraph("No area that is judged was under water in this storm, so there is none to trace.");
  return list(at_most(items, 4));
}

// The judged areas, as their places in the record: what misses the target first, then what stands longest,
// then what is soggy longest, by what is proposed where something is.
std::vector<std::size_t> worst_first(const SheetScene& scene) {
  const auto& areas = (scene.built != nullptr ? *scene.built : scene.as_is).areas;
  std::vector<std::size_t> order;
  for (std::size_t k = 0; k < std::min(areas.size(), scene.as_is.areas.size()); ++k)
    if (scene.as_is.areas[k].judged) order.push_back(k);
  const auto badness = [&](std::size_t k) {
    const results::AreaRecord& area = areas[k];
    return std::tuple(!area.clear_within_target, area.still_standing, area.standing_hours_after_rain,
                      area.still_soggy, area.soggy_hours_after_rain);
  };
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return badness(a) > badness(b); });
  return order;
}

std::string hours_table(const SheetScene& scene) {
  Table table{"After the rain a puddle stands, and the ground stays soggy (full of water to " +
                  amount(results::soggy_depth, scene.units().depth) + " below its top)",
              {"place", "now"},
              {},
              {1, 2}};
  if (scene.built != nullptr) table.head.push_back("as proposed");
  const auto cell = [&](const results::AreaRecord& area) {
    const bool dry = area.standing_hours_after_rain <= 0 && !area.still_standing;
    const std::string soggy = soggy_text(area);
    return (dry ? "no puddle"
                : judged_hours(area.standing_hours_after_rain, area.still_standing,
                               scene.comparison().clear_within)) +
           (soggy == not_soggy || soggy == still_soggy ? "; " : "; soggy ") + soggy;
  };
  for (const std::size_t k : worst_first(scene)) {
    const results::AreaRecord& now = scene.as_is.areas[k];
    std::vector<std::string> row = {short_name(now.name, 28) + (now.under_slab ? " (soggy: under it)" : ""),
                                    cell(now)};
    if (scene.built != nullptr)
      row.push_back(k < scene.built->areas.size() ? cell(scene.built->areas[k]) : "");
    table.rows.push_back(std::move(row));
  }
  keep_rows(table, most_areas);
  return table.rows.empty() ? "" : table_html(table);
}

std::string expectation(const SheetScene& scene) {
  const results::Comparison& all = scene.comparison();
  std::string text = "For " + storm_words(scene.site(), all, scene.units());
  if (scene.site().storm.comes_by_period())
    text += " (the storm that comes once in " + rounded(scene.site().storm.return_period, 3) +
            " years on average)";
  text += later_storms_words(scene.site(), scene.units()) + ". The hours are for the likely soil; ";
  text += all.plausible.draws > 0 ? "over soils that are as plausible: " + all.plausible.sentence + " "
                                  : "soil can differ tenfold, and the hours with it. ";
  return text +
         "The difference between now and proposed is better known than either. A bigger storm, or one on "
         "full ground, stands longer.";
}

// Of a pit or a rain garden: when its water is gone.
std::string gone_when(const results::DesignRecord& built, const std::string& name) {
  const std::string emptied = emptied_text(built, name);
  return emptied.empty() ? "" : "; " + emptied;
}

// What becomes of the water at the end of a drain.
std::string where_it_goes(const site::Outlet& outlet, const site::Design& design,
                          const results::DesignRecord& built) {
  const std::string name = short_name(outlet.name, 28);
  std::string text = outlet.kind == "dry well" ? "The water soaks away at " + name + " (dry well"
                     : outlet.kind == "pump"   ? "The water is pumped up from " + name + " (pump"
                                               : "The water leaves at " + name + " (" + outlet.kind;
  if (site::stands_already(design, outlet.name)) text += ", which is there already";
  return text + gone_when(built, outlet.name) + ").";
}

std::string works(const SheetScene& scene) {
  std::vector<std::string> items;
  const auto& design = *scene.design;
  for (const site::Run& run : design.runs) {
    if (site::stands_already(design, run.name)) continue;
    std::string text =
        amount(length(run.path), scene.units().length, 2) + " of " + pipe_size_text(run.pipe, scene.units()) +
        (run.pipe.slot_area > 0 ? " slotted pipe that takes water in" : " solid pipe that carries it");
    if (run.has_trench && run.pipe.slot_area > 0) text += ", in stone under " + short_name(run.cap.name);
    items.push_back(short_name(run.name, 28) + ": " + text + ".");
  }
  for (const site::Outlet& outlet : design.outlets)
    items.push_back(where_it_goes(outlet, design, *scene.built));
  for (const terrain::Earthwork& work : scene.built->earthworks)
    if (!site::stands_already(design, work.name))
      items.push_back(short_name(work.name, 28) + ": the ground gets another shape (" + work.kind +
                      gone_when(*scene.built, work.name) + ").");
  for (const site::Inlet& inlet : design.inlets)
    if (!site::stands_already(design, inlet.name))
      items.push_back(short_name(inlet.name, 28) + ": a grate in the low spot.");
  for (const site::Channel& channel : design.channels)
    if (!site::stands_already(design, channel.name))
      items.push_back(short_name(channel.name, 28) + ": a grated gutter.");
  for (const site::Amend& amend : design.amends)
    if (!site::stands_already(design, amend.name))
      items.push_back(short_name(amend.name, 28) + ": the soil is improved over " +
                      amount(area(amend.outline), scene.units().area, 2) + ".");
  for (const site::DownspoutChange& change : design.downspouts)
    items.push_back(short_name(change.downspout, 28) +
                    (change.to == "ground" ? ": let out on the ground."
                                           : ": led into " + short_name(change.to, 28) + "."));
  return list(at_most(items, most_works, "cutsheet.html"));
}

// The dry side is that of the dry spell where one was asked for, as everywhere.
const std::vector<results::BedRecord>& dry_beds(const results::DesignRecord& record) {
  return record.season_beds.empty() ? record.beds : record.season_beds;
}

// "no time", "36 h", "over 36 h" where the run ends before it does.
std::string spell(const results::BedRecord& bed) {
  if (bed.soggy_hours <= 0) return "no time";
  if (bed.still_soggy && bed.soggy_hours < 1) return hours_text(bed.soggy_hours) + ", still so at the end";
  return open_hours_text(bed.soggy_hours, bed.still_soggy, "");
}

// "never", "2.5 days": below half of what its plants can use.
std::string dry_days(const results::BedRecord& bed) {
  const std::string days = rounded(bed.days_below_half_available_water, 2);
  return days == "0" ? "never" : days + (days == "1" ? " day" : " days");
}

// How far down the roots of a bed reach: they may stand in water that the ground above is rid of.
std::string root_depth(const SheetScene& scene, const std::string& bed) {
  for (const site::Area& area : scene.site().areas)
    if (area.name == bed && area.plants && area.plants->root_depth > 0)
      return " (down to " + amount(area.plants->root_depth, scene.units().depth) + ")";
  return "";
}

std::string beds(const SheetScene& scene) {
  std::vector<std::string> items;
  const results::SeasonPlan& season = scene.comparison().season;
  const std::string when = season.length > 0 && !scene.as_is.season_beds.empty()
                               ? " in " + rounded(season.length / 86400, 3) + " days without rain"
                               : "";
  for (std::size_t k = 0; k < scene.as_is.beds.size(); ++k) {
    const results::BedRecord& now = scene.as_is.beds[k];
    std::string text = short_name(now.name, 28) + ": roots" + root_depth(scene, now.name) +
                       " stand soggy, rain included, for " + spell(now);
    if (scene.built != nullptr && k < scene.built->beds.size()) {
      text += " now, " + spell(scene.built->beds[k]) + " as proposed";
      const auto &before = dry_beds(scene.as_is), &after = dry_beds(*scene.built);
      if (k < before.size() && k < after.size())
        text += ". Short of water" + when + ": " + dry_days(before[k]) + " now, " + dry_days(after[k]) +
                " as proposed; at its driest it keeps " + percent(before[k].lowest_available_fraction) +
                " of what plants can use now, " + percent(after[k].lowest_available_fraction) +
                " as proposed";
    }
    items.push_back(text + ".");
  }
  return items.empty() ? "" : part("Beds", list(at_most(items, most_beds)));
}

// "met", "not met", "not met: a bed too wet": as everywhere, beds count as well as puddles.
std::string target_words(const results::Comparison& all, const results::DesignRecord& design) {
  bool standing = false, wet = false, dry = false;
  for (const results::Judged& miss : results::misses(all, design)) {
    standing = standing || miss.promise == results::Promise::standing;
    wet = wet || miss.promise == results::Promise::soggy_bed;
    dry = dry || miss.promise == results::Promise::dry_bed;
  }
  if (!standing && !wet && !dry) return "met";
  const std::string beds = wet && dry ? "beds too wet, too dry" : wet ? "a bed too wet" : "a bed too dry";
  return std::string("not met") + (wet || dry ? ": " + beds : "");
}

std::string options(const SheetScene& scene) {
  if (scene.comparison().designs.size() < 3) return "";
  Table table{"What was compared", {"option", "stands longest", "target"}, {}, {1, 2}};
  // The yard as it is and what is proposed are shown, however many others there are.
  const auto& designs = scene.comparison().designs;
  std::vector<const results::DesignRecord*> shown;
  for (const results::DesignRecord& design : designs) shown.push_back(&design);
  constexpr std::ptrdiff_t last = most_options - 2; // before the row that counts the others
  const auto chosen = std::find(shown.begin(), shown.end(), scene.built);
  if (shown.size() > most_options && chosen != shown.end() && chosen > shown.begin() + last)
    std::rotate(shown.begin() + last, chosen, chosen + 1);
  for (const results::DesignRecord* each : shown) {
    const results::DesignRecord& design = *each;
    const double target = scene.comparison().clear_within, end_of_rain = scene.comparison().end_of_rain;
    const results::Standing slowest = results::longest_standing(design, target, end_of_rain);
    const std::size_t not_kept = study::limits_not_kept(scene.comparison(), design).size();
    const bool dry = slowest.hours <= 0 && !slowest.still;
    table.rows.push_back({short_name(design.name, 30),
                          dry ? "no puddle" : judged_hours(slowest.hours, slowest.still, target),
                          target_words(scene.comparison(), design) +
                              (not_kept > 0 ? "; limits not kept: " + std::to_string(not_kept) : "")});
  }
  keep_rows(table, most_options);
  return table_html(table);
}

// Which kinds of work a design has that sentences on the page speak of.
struct Built {
  bool trench = false, stone = false, pipe = false, outlet = false; // of it, what is new; an outlet may stand
};

Built built_of(const SheetScene& scene) {
  Built built;
  if (scene.design == nullptr) return built;
  for (const site::Run& run : scene.design->runs) {
    built.pipe = built.pipe || run.pipe.diameter > 0;
    if (site::stands_already(*scene.design, run.name)) continue;
    built.trench = true;
    built.stone = built.stone || run.has_trench;
  }
  built.outlet = !scene.design->outlets.empty();
  return built;
}

std::string upkeep(const SheetScene& scene) {
  const Built built = built_of(scene);
  std::vector<std::string> items;
  if (built.outlet)
    items.push_back(
        std::string("After every big storm, the first year: ") +
        (all_end_in(*scene.design, "dry well") ? "look into the dry well, and note when it is empty again."
         : all_end_in(*scene.design, "pump")   ? "see that the pump starts and where its water goes."
                                               : "look at the outlet while it runs."));
  if (scene.design != nullptr)
    for (const std::string& phrase : study::upkeep_of(scene.site(), *scene.design))
      items.push_back(sentence_case(phrase) + ".");
  items.push_back("Spring and fall: clear gutters and downspouts.");
  if (built.trench) items.push_back("After the first winter: top up the trench where it has settled.");
  items.push_back(std::string("Once a year: ") + (built.pipe ? "flush the pipe; " : "") +
                  "note how long the yard stayed wet after how much rain.");
  return list(items);
}

std::string not_promised(const SheetScene& scene) {
  const Built built = built_of(scene);
  std::vector<std::string> items = {
      "It does not keep the yard from ever being wet, and it does not drain soil below what it holds by "
      "itself.",
      "Left out: frozen ground, cracks and worm holes, the neighbours' unseen ground, damaged pipe.",
      std::string("New paving") + (built.stone ? ", a shed or mulch over the stone" : " or a shed") +
          " changes the answer."};
  if (scene.design != nullptr) {
    items.insert(items.begin() + 2,
                 "Not included: rock, roots, buried debris, unmarked private lines, water in a basement.");
    items.push_back(std::string("The lawn shows a scar for a season") +
                    (built.trench ? ", and the trench settles." : "."));
  }
  return list(items);
}

std::string could_be_wrong(const SheetScene& scene) {
  std::vector<std::string> items;
  for (const std::string& item : site::unknowns(scene.site()))
    items.push_back(as_sentence("UNKNOWN: " + short_name(item, 150)));
  if (scene.built != nullptr)
    for (const results::CheckRecord& end : study::buried_ends(*scene.built))
      items.insert(items.begin(), "UNKNOWN: whether anything runs out at " + short_name(end.about, 28) +
                                      "; " + short_name(end.found, 90) +
                                      ". Have the ground beyond it shot before anything is dug.");
  items = at_most(items, most_unknowns, "the answer of lowspot check");
  const std::vector<site::Soil>& soils = scene.site().soils;
  // Where plausible soils were run, what is said of them above names the test that tells most here.
  if (scene.comparison().plausible.draws == 0 &&
      std::all_of(soils.begin(), soils.end(), [](const site::Soil& soil) { return soil.holes.empty(); }))
    items.push_back("A hole test of the tight layer narrows the hours more than anything else.");
  items.push_back("Wet without rain for days points to a leak or a spring: say so before anything is dug.");
  return list(items); // what warns of harm is never cut off
}

// Letters of the page that are printed: what stands between its tags.
std::size_t letters(const std::string& html) {
  std::size_t count = 0;
  bool inside = false;
  for (const char each : html) {
    inside = each == '<' || (inside && each != '>');
    count += !inside && each != '>';
  }
  return count;
}

} // namespace

std::string owner_sheet_html(const SheetScene& scene) {
  std::string body = "<p class=\"big\">" +
                     escape(whole_sentences(scene.comparison().verdict.sentence, most_words)) + "</p>\n";
  body += maps(scene);
  body += "<p class=\"quiet\">Colours: hours that a puddle deeper than " +
          escape(amount(scene.comparison().standing_depth, scene.units().depth)) +
          " stands after the rain. Dashed pipe takes water in, a full line only carries it.</p>\n";
  body += "<div class=\"cols two\">" +
          part("What to expect, in hours", hours_table(scene) + paragraph(expectation(scene))) + "<div>" +
          part("Where the water comes from", sources(scene));
  if (scene.design != nullptr) body += part("What is built: " + short_name(scene.design->name), works(scene));
  body += "</div></div>\n<div class=\"cols two\"><div>" + beds(scene) + options(scene) +
          part("What could make this wrong", could_be_wrong(scene)) + "</div><div>" +
          part("What it does not do", not_promised(scene)) + part("Upkeep", upkeep(scene)) + "</div></div>\n";
  body += "<div class=\"writes\">" + blank("Agreed: dry within") + blank("after rain of") + blank("owner") +
          blank("contractor") + blank("looked at again on (one year)") + "</div>\n";
  const bool tight = letters(body) > comfortable || scene.comparison().verdict.sentence.size() > 320 ||
                     scene.comparison().designs.size() > 4 || scene.as_is.areas.size() > 4 ||
                     scene.as_is.beds.size() > 1 ||
                     (scene.design != nullptr && scene.design->runs.size() > 3);
  return sheet_html(scene, "For the owner: " + short_name(scene.site().name, 60), body, tight);
}

} // namespace lowspot::report
