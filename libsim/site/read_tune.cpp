// [tune]: which figures of a design may vary, and within what limits.
#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/site/materials.hpp>
#include <lowspot/site/names.hpp>
#include <lowspot/site/readers.hpp>
#include <lowspot/site/trench_rules.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {

constexpr std::size_t most_values = 50; // of one list: more is a slip

// Reads one entry of a list as if it stood alone under the list's key, with the line it is on.
template <class Read>
auto read_entry(const TableReader& vary, const std::string& key, const toml::node& node, Read read) {
  toml::table alone;
  node.visit([&](const auto& value) { alone.insert(key, value); });
  const TableReader reader(alone, vary.path(""), vary.context());
  try {
    return read(reader);
  } catch (const InputError& error) {
    const int line = static_cast<int>(node.source().begin.line);
    throw InputError({error.where.file, line, error.where.key}, error.found, error.expected, error.mend);
  }
}

// The entries of a list; `same` tells whether two of them would be the same thing tried twice.
template <class Value, class Read, class Same>
std::vector<Value> read_list(const TableReader& vary, const std::string& key, const std::string& example,
                             Read read, Same same) {
  std::vector<Value> values;
  const toml::node* node = vary.find(key);
  if (!node) return values;
  const auto* array = node->as_array();
  const std::string mend = "Write " + key + " = " + example + ".";
  if (!array) vary.fail(key, shown(*node), "a list of what to try", mend);
  if (array->empty()) vary.fail(key, "an empty list", "a list of what to try", mend);
  if (array->size() > most_values)
    vary.fail(key, shown(*node), "at most " + std::to_string(most_values) + " values",
              "Begin with few, far apart; the curve shows where more are worth trying.");
  for (const toml::node& entry : *array) {
    values.push_back(read_entry(vary, key, entry, read));
    for (std::size_t k = 0; k + 1 < values.size(); ++k)
      if (same(values[k], values.back()))
        vary.fail(key, shown(entry) + " twice", "each value once", "Remove one of them.");
  }
  return values;
}

std::vector<double> read_quantities(const TableReader& vary, const std::string& key,
                                    const std::string& example, Dimension dimension, Range range) {
  return read_list<double>(
      vary, key, example, [&](const TableReader& entry) { return entry.quantity(key, dimension, range); },
      [](double a, double b) { return std::abs(a - b) <= 1e-9 * std::abs(a); });
}

void read_vary(const TableReader& vary, const Design& design, TuneLists& lists) {
  bool takes_water = false;
  for (const Run& run : design.runs) takes_water = takes_water || run.pipe.slot_area > 0;
  const auto same_name = [](const auto& a, const auto& b) { return a.name == b.name; };
  lists.pipes = read_list<PipeChoice>(
      vary, "pipe", "[\"3 in corrugated, slotted\", \"4 in corrugated, slotted\"]",
      [&](const TableReader& entry) {
        const PipeChoice pipe = read_pipe(entry, takes_water);
        if (takes_water && pipe.slot_area <= 0)
          entry.fail("pipe", "\"" + pipe.name + "\", a solid pipe", "a slotted pipe",
                     "Only runs that take water in vary; solid ones follow in size by themselves.");
        if (!takes_water && pipe.slot_area > 0)
          entry.fail("pipe", "\"" + pipe.name + "\", a slotted pipe",
                     "a solid pipe: no run of this design takes water in", "Write it with \", solid\".");
        return pipe;
      },
      [](const PipeChoice& a, const PipeChoice& b) { return a.name == b.name && a.diameter == b.diameter; });
  lists.caps = read_list<CapChoice>(
      vary, "cap", "[\"sod\", \"mulch over stone\"]",
      // A cap made of soil or stone gets its conductivity where it is laid.
      [](const TableReader& entry) { return read_cap(entry, 0, 0); },
      [](const CapChoice& a, const CapChoice& b) {
        return a.name == b.name && a.depth == b.depth && a.conductivity == b.conductivity;
      });
  lists.stones = read_list<StoneChoice>(
      vary, "stone", "[\"No. 57, rounded, washed\"]",
      [](const TableReader& entry) { return read_stone(entry); }, same_name);
  lists.depths = read_quantities(vary, "depth", "[\"14 in\", \"18 in\"]", Dimension::length, Range::positive);
  lists.widths = read_quantities(vary, "width", "[\"8 in\", \"12 in\"]", Dimension::length, Range::positive);
  lists.offsets = read_quantities(vary, "offset", "[\"0 in\", \"18 in\"]", Dimension::length, Range::any);
  lists.falls = read_quantities(vary, "fall", "[\"0.5 %\", \"1 %\"]", Dimension::slope, Range::positive);
  vary.done();
  const bool any = !lists.pipes.empty() || !lists.caps.empty() || !lists.stones.empty() ||
                   !lists.depths.empty() || !lists.widths.empty() || !lists.offsets.empty() ||
                   !lists.falls.empty();
  if (!any)
    vary.fail("", "nothing to vary", "lists of pipe, depth, width, cap, offset, fall or stone",
              "Write vary = { depth = [\"14 in\", \"18 in\", \"24 in\"] }.");
}

const Design& design_to_vary(const TableReader& table, Tune& tune) {
  const Site& site = table.context().site;
  if (site.designs.empty())
    table.fail("design", "a yard without a [[design]]", "one to vary", "Add a [[design]] with its runs.");
  if (!table.has("design") && site.designs.size() == 1) {
    tune.design = site.designs.front().name;
    table.assume("design", "\"" + tune.design + "\", the only one");
    return site.designs.front();
  }
  tune.design = table.text("design", "the name of the [[design]] to vary");
  refuse_unknown(table, "design", tune.design, names_of(site.designs), "the name of a [[design]]");
  for (const Design& design : site.designs)
    if (design.name == tune.design) return design;
  return site.designs.front();
}

void read_limits(const TableReader& table, const Site& site, Tune& tune) {
  tune.cover = site.reach.cover;
  tune.least_fall = site.reach.least_fall;
  const TrenchRule walls = protected_from(site);
  tune.deepest_trench = walls.depth;
  const TableReader limits = table.table_or_empty("limits");
  const auto take = [&](const std::string& key, Dimension dimension, double& value) {
    if (const auto given = limits.maybe_quantity(key, dimension))
      value = *given;
    else
      limits.assume(key, written(value, dimension, site));
  };
  take("cover", Dimension::length, tune.cover);
  take("fall", Dimension::slope, tune.least_fall);
  take("trench_depth", Dimension::length, tune.deepest_trench);
  limits.done();
  if (tune.deepest_trench > walls.depth + 1e-6)
    limits.warn("trench_depth", written(tune.deepest_trench, Dimension::length, site) +
                                    " lets in trenches whose sides must be held or sloped, from " +
                                    walls.written + " on: people have died in shallower ones");
}

} // namespace

void read_tune(const TableReader& root, Context& context) {
  const auto table = root.table("tune");
  if (!table) return;
  Tune tune;
  tune.line = table->line();
  const Design& design = design_to_vary(*table, tune);
  const auto vary = table->table("vary");
  if (!vary) {
    table->required("vary", "lists of what to try, such as vary = { depth = [\"14 in\", \"18 in\"] }");
    return;
  }
  read_vary(*vary, design, tune.vary);
  read_limits(*table, context.site, tune);
  table->done();
  context.site.tune = std::move(tune);
}

} // namespace lowspot::site
