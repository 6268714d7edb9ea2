// [limits]: a town's own figures in place of the catalogue's.
#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/site/names.hpp>
#include <lowspot/site/readers.hpp>

namespace lowspot::site {
namespace {
// In the units of the yard.
std::string example_of(catalog::LimitKind kind, const Site& site) {
  if (site.units != "ft" && kind == catalog::LimitKind::length) return "\"150 mm\"";
  if (site.units != "ft" && kind == catalog::LimitKind::velocity) return "\"0.4 m/s\"";
  if (site.units != "ft" && kind == catalog::LimitKind::slope) return "\"1 cm per m\" or \"2 %\"";
  return catalog::limit_example(kind);
}
} // namespace

void read_limits(const TableReader& root, Context& context) {
  Site& site = context.site;
  site.limits = context.catalog.limits;
  const TableReader table = root.table_or_empty("limits");
  const std::string source = table.maybe_text("source").value_or("[limits] of the site file");
  for (catalog::PracticeLimit& limit : site.limits) {
    const toml::node* node = table.find(limit.name);
    if (!node) continue;
    // A multiple is a bare number, all else a quantity with its unit.
    const auto number = node->value<double>();
    const bool bare = limit.kind == catalog::LimitKind::multiple && number && !node->is_string();
    const std::string text =
        bare ? number_text(*number) : table.text(limit.name, example_of(limit.kind, site));
    std::string problem;
    limit.value = catalog::read_limit(limit.kind, text, &problem);
    if (std::isnan(limit.value))
      table.fail(limit.name, shown(*node) + ": " + problem, "such as " + example_of(limit.kind, site),
                 "It stands for: " + limit.meaning + ".");
    limit.written = text;
    limit.from = {source, "town"};
  }
  table.done();
}

} // namespace lowspot::site
