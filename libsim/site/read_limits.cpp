// [limits]: a town's own figures in place of the catalogue's.
#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/site/names.hpp>
#include <lowspot/site/readers.hpp>

namespace lowspot::site {

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
        bare ? number_text(*number) : table.text(limit.name, catalog::limit_example(limit.kind));
    std::string problem;
    limit.value = catalog::read_limit(limit.kind, text, &problem);
    if (std::isnan(limit.value))
      table.fail(limit.name, shown(*node) + ": " + problem, "such as " + catalog::limit_example(limit.kind),
                 "It stands for: " + limit.meaning + ".");
    limit.written = text;
    limit.from = {source, "town"};
  }
  table.done();
}

} // namespace lowspot::site
