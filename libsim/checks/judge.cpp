#include <lowspot/checks/judge.hpp>

#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/site/trench_rules.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::checks {
namespace {
// Figures that differ by round-off alone are equal.
constexpr double round_off = 1e-9;
} // namespace

const catalog::PracticeLimit* find_limit(const site::Site& site, const std::string& name) {
  return site::limit_named(site, name);
}

double limit_value(const site::Site& site, const std::string& name) {
  const catalog::PracticeLimit* limit = find_limit(site, name);
  return limit ? limit->value : site::not_given;
}

std::string written(catalog::LimitKind kind, double value, const site::Site& site) {
  switch (kind) {
  case catalog::LimitKind::length:
    return length_text(value, site);
  case catalog::LimitKind::velocity:
    return site.units == "ft" ? rounded(value / 0.3048, 2) + " ft/s" : rounded(value, 2) + " m/s";
  case catalog::LimitKind::slope:
    return rounded(std::abs(value) < least_slope ? 0 : value * 100, 2) + " %";
  case catalog::LimitKind::share:
    return std::isinf(value) ? "without end" : rounded(std::round(value * 1000) / 10, 3) + " %";
  case catalog::LimitKind::time:
    return site::written(value, Dimension::time, site);
  case catalog::LimitKind::multiple:
    return rounded(value, 3);
  }
  return "";
}

std::string length_text(double value, const site::Site& site) {
  // Less than anybody measures is round-off.
  if (std::abs(value) < least_length) value = 0;
  return site::written(value, Dimension::length, site);
}

std::string limit_text(const catalog::PracticeLimit& limit, const site::Site& site) {
  const bool measured = limit.kind == catalog::LimitKind::length ||
                        limit.kind == catalog::LimitKind::velocity || limit.kind == catalog::LimitKind::slope;
  const bool as_it_stands =
      site.units == "ft" || limit.from.mark == "town" || limit.written.empty() || !measured;
  return as_it_stands ? limit.written : written(limit.kind, limit.value, site);
}

results::CheckRecord item(const site::Site& site, const std::string& limit_name, std::string id,
                          std::string name, std::string about) {
  results::CheckRecord record;
  record.id = std::move(id);
  record.name = std::move(name);
  record.about = std::move(about);
  if (const catalog::PracticeLimit* limit = find_limit(site, limit_name)) {
    record.limit_value = limit->value;
    if (!limit->written.empty())
      record.limit = (limit->at_least ? "at least " : "at most ") + limit_text(*limit, site);
    record.source = limit->from.source;
    record.mark = limit->from.mark;
  }
  return record;
}

void judge(results::CheckRecord& record, const site::Site& site, const std::string& limit_name, double value,
           const std::string& where) {
  const catalog::PracticeLimit* limit = find_limit(site, limit_name);
  record.found_value = value;
  record.found = written(limit ? limit->kind : catalog::LimitKind::length, value, site) + where;
  if (!limit || std::isnan(limit->value)) {
    record.outcome = results::CheckOutcome::unknown;
    record.missing = limit ? "the figure: " + limit->from.source + ". Put it in [limits] as " + limit_name
                           : "a limit called " + limit_name;
    return;
  }
  const double slack = round_off * std::max(1.0, std::abs(limit->value));
  const bool kept = limit->at_least ? value >= limit->value - slack : value <= limit->value + slack;
  record.outcome = kept ? results::CheckOutcome::pass : results::CheckOutcome::fail;
}

} // namespace lowspot::checks
