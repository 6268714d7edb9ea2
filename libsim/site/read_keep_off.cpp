// [[keep_off]], [[tree]] and [[utility]]: what digging and water must stay away from. They may lie outside
// the yard: a neighbour's tree has roots on this side of the fence.
#include <lowspot/site/names.hpp>
#include <lowspot/site/readers.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {
const std::vector<std::string> kinds = {"lot line", "right of way", "well", "septic field", "other"};

KeepOff read_place(const TableReader& table, std::size_t number) {
  KeepOff place;
  place.line = table.line();
  place.kind = table.word("kind", kinds);
  place.name = table.maybe_text("name").value_or(place.kind + " " + std::to_string(number));
  const bool at = table.has("at"), line = table.has("line"),
             outline = table.has("outline") || table.has("rectangle");
  if (at + line + outline != 1)
    table.fail("", at + line + outline == 0 ? "no place" : "more than one shape",
               "one of `at`, `line` and `outline`",
               "Give a point for a well, a line for a lot line, an outline for a septic field.");
  if (at) place.shape = {table.point("at")};
  if (line) place.shape = table.line_of_points("line");
  if (outline) place.shape = table.outline(), place.closed = true;
  if (const auto distance = table.maybe_quantity("distance", Dimension::length)) place.distance = *distance;
  if (place.kind == "other" && !table.has("distance"))
    table.fail("distance", "nothing", "the distance to keep, such as \"10 ft\"",
               "For kind \"other\" there is no usual distance.");
  table.done();
  return place;
}
} // namespace

void read_keep_off(const TableReader& root, Context& context) {
  Site& site = context.site;
  for (const TableReader& table : root.tables("keep_off")) {
    KeepOff place = read_place(table, site.keep_offs.size() + 1);
    refuse_taken(table, place.name, site.keep_offs, "place to keep off");
    site.keep_offs.push_back(std::move(place));
  }
  for (const TableReader& table : root.tables("tree")) {
    Tree tree;
    tree.line = table.line();
    tree.name = table.maybe_text("name").value_or("tree " + std::to_string(site.trees.size() + 1));
    tree.at = table.point("at");
    tree.trunk = table.quantity("trunk", Dimension::length, Range::positive);
    table.done();
    refuse_taken(table, tree.name, site.trees, "tree");
    constexpr double widest = 3; // m; no tree of a yard is wider
    if (tree.trunk > widest)
      table.fail("trunk", written(tree.trunk, Dimension::length, site), "the diameter of the trunk",
                 "Give the diameter at breast height, not the crown or the girth.");
    site.trees.push_back(std::move(tree));
  }
  for (const TableReader& table : root.tables("utility")) {
    Utility line;
    line.line = table.line();
    line.name = table.maybe_text("name").value_or("utility " + std::to_string(site.utilities.size() + 1));
    line.path = table.line_of_points("path");
    if (const auto depth = table.maybe_quantity("depth", Dimension::length)) {
      line.depth = *depth;
      constexpr double deepest_usual = 3.6576; // m, 12 ft: a sewer in a cold town
      if (line.depth > deepest_usual)
        table.warn("depth",
                   written(line.depth, Dimension::length, site) +
                       " is deeper than lines to a house lie, so a trench that cuts it passes as clear; "
                       "check the unit");
    }
    if (const auto size = table.maybe_quantity("size", Dimension::length, Range::positive)) {
      line.size = *size;
      constexpr double widest_usual = 0.6096; // m, 24 in: a storm drain in the street
      if (line.size > widest_usual)
        table.warn("size", written(line.size, Dimension::length, site) +
                               " is wider than lines in a yard are; give the outside from top to underside, "
                               "and check the unit");
    }
    table.done();
    refuse_taken(table, line.name, site.utilities, "utility");
    site.utilities.push_back(std::move(line));
  }
}

} // namespace lowspot::site
