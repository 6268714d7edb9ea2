#include <lowspot/site/trench_rules.hpp>

#include <cmath>

#include <lowspot/site/rule_length.hpp>

namespace lowspot::site {
namespace {

constexpr double foot = 0.3048; // m

TrenchRule rule(const Site& site, const std::string& name, double usual_feet) {
  const catalog::PracticeLimit* limit = limit_named(site, name);
  const bool known = limit && std::isfinite(limit->value);
  const double depth = known ? limit->value : usual_feet * foot;
  if (known && limit->from.mark == "town" && !limit->written.empty()) return {depth, limit->written};
  return {depth, rule_length(depth / foot, site.units == "ft")};
}

} // namespace

const catalog::PracticeLimit* limit_named(const Site& site, const std::string& name) {
  for (const catalog::PracticeLimit& limit : site.limits)
    if (limit.name == name) return &limit;
  return nullptr;
}

TrenchRule protected_from(const Site& site) {
  return rule(site, "trench_depth", 5);
}

TrenchRule way_out_from(const Site& site) {
  return rule(site, "trench_way_out", 4);
}

std::string trench_words(const Site& site) {
  return "From " + way_out_from(site).written + " a trench needs a way out, from " +
         protected_from(site).written + " protection.";
}

} // namespace lowspot::site
