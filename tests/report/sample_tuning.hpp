// A made-up search among five combinations, to test writers with. No program computed it.
#pragma once
#include <lowspot/study/front.hpp>
#include <lowspot/study/tune.hpp>

#include "report/sample_site.hpp"

namespace sample {

inline lowspot::study::Tried tried(const std::string& name, double dig, double hours, bool full) {
  lowspot::study::Tried one;
  one.candidate.name = name;
  one.candidate.works.dig = dig;
  one.candidate.works.length = 20;
  one.candidate.works.pipe = 0.0762;
  DesignRecord record;
  record.name = name;
  record.areas = {{"long bed", 0.05, 0.5, hours, 13.5, hours, hours <= 24, true, false}};
  record.drains = {{"leg", 0.0007, 0.0017, 0, 2.3, "cap", {{"cap", 20}, {"stone", 2}}}};
  one.judged = {{Promise::standing, "long bed", hours * 3600, 24 * 3600, false, hours <= 24}};
  one.works = full && hours <= 24;
  one.quick = record;
  if (full) one.full = record;
  return one;
}

inline lowspot::study::Tuning tuning() {
  using namespace lowspot::study;
  Tuning made;
  made.yard = yard();
  DesignRecord as_is;
  as_is.name = "as is";
  as_is.areas = {{"long bed", 0.06, 0.6, 80, 13.5, 80, false, true, false}};
  made.yard.designs = {as_is};
  made.yard.warnings.clear();
  made.design = "3 in along the patio";
  made.tried = {tried("14 in deep; sod", 1.5, 40, true), tried("16 in deep; sod", 1.8, 33, true),
                tried("16 in deep; open stone", 1.9, 6, true), tried("20 in deep; open stone", 2.6, 3, false),
                tried("30 in deep; sod", 3.9, 30, false)};
  Tried& buried = made.tried[4];
  buried.candidate.limit = "fall";
  buried.candidate.refused = "no fall left: 'carrier' would have to be laid at 0.2 %";
  buried.full.reset();
  buried.quick.reset();
  buried.judged.clear();
  made.smallest = 2;
  made.quick_used = true;
  made.error = {5400, 0, 0, 4};
  made.quick_cell = 0.3048;
  made.full_cell = 0.1524;
  mark_front(made.tried);
  made.knee = knee_of(made.tried);
  return made;
}

} // namespace sample
