#include <lowspot/site/read_standing.hpp>

#include <algorithm>

#include <lowspot/site/combine.hpp>
#include <lowspot/site/names.hpp>

namespace lowspot::site {
namespace {
std::vector<std::string> names_in(const Design& design) {
  std::vector<std::string> names;
  const auto add = [&](const auto& works) {
    for (const std::string& name : names_of(works)) names.push_back(name);
  };
  add(design.runs), add(design.fittings), add(design.outlets), add(design.inlets), add(design.channels);
  add(design.regrades), add(design.amends), add(design.basins);
  return names;
}

const Design& design_above(const TableReader& table, std::string_view key, const std::string& name) {
  const auto& designs = table.context().site.designs;
  for (const Design& design : designs)
    if (design.name == name || design.own_name == name) return design;
  refuse_unknown(table, std::string(key), name, names_of(designs), "the name of a design above this one");
  return designs.front(); // not reached: an unknown name is refused
}

std::vector<std::string> names_to_combine(const TableReader& table) {
  const std::string mend = "Write combine = [\"one design\", \"another\"].";
  const toml::node* node = table.find("combine");
  if (!node) return {};
  const auto* array = node->as_array();
  if (!array || array->empty()) table.fail("combine", shown(*node), "a list of names of designs", mend);
  std::vector<std::string> names;
  for (const toml::node& entry : *array) {
    const auto* name = entry.as_string();
    if (!name) table.fail("combine", shown(entry), "the name of a design in quotes", mend);
    if (is_one_of(trim(name->get()), names))
      table.fail("combine", "\"" + trim(name->get()) + "\" twice", "each design once",
                 "Leave one of them out.");
    names.push_back(trim(name->get()));
  }
  return names;
}

void accept(const TableReader& table, const std::string& key, const Combined& both) {
  if (!both.clashes.empty())
    table.fail(key, both.clashes.front(), "works that can be built on one yard",
               "Leave one of the two out, or write a design of its own that does both.");
  for (const std::string& sentence : both.renamed) table.assume(key, sentence);
  for (const std::string& sentence : both.built_once) table.assume(key, sentence);
}
} // namespace

Design read_standing(const TableReader& table) {
  Design design;
  std::vector<const Design*> parts;
  for (const std::string& name : names_to_combine(table)) {
    const Design& part = design_above(table, "combine", name);
    if (!part.after.empty())
      table.fail("combine", "\"" + part.name + "\", a later stage", "designs that stand by themselves",
                 "Combine its parts, or give this design after = \"" + part.own_name + "\".");
    parts.push_back(&part);
    design.made_of.push_back(part.name);
  }
  const std::vector<std::string> made_of = design.made_of;
  if (!parts.empty()) {
    const Combined all = combine_all(parts, "");
    accept(table, "combine", all);
    design = all.design;
  }
  if (const auto after = table.maybe_text("after")) {
    const Design& earlier = design_above(table, "after", *after);
    design.name = table.maybe_text("name").value_or(parts.size() == 1 ? parts[0]->name : "later");
    const Combined both = combine(earlier, design, Joining::after);
    accept(table, "after", both);
    design = both.design;
    design.after = earlier.name;
    design.standing = names_in(earlier);
  }
  design.made_of = made_of;
  return design;
}

std::string own_name_of(const TableReader& table, const Design& design, std::size_t number) {
  if (const auto name = table.maybe_text("name")) return *name;
  std::string made;
  for (const std::string& part : design.made_of) made += (made.empty() ? "" : " + ") + part;
  return made.empty() ? "design " + std::to_string(number) : made;
}

} // namespace lowspot::site
