// [site]: name, units, outline and cell size.
#include <cmath>

#include <lowspot/base/limits.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/gis/reference.hpp>
#include <lowspot/site/cell_size.hpp>
#include <lowspot/site/readers.hpp>
#include <lowspot/site/second_look.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {
void read_cell(const TableReader& table, Site& site) {
  const Box box = bounds(site.outline);
  if (const auto cell = table.maybe_quantity("cell", Dimension::length, Range::positive)) {
    site.cell = *cell;
    const double cells = cells_in(box, site.cell);
    if (cells > limits::grid_cells)
      table.fail("cell",
                 written(site.cell, Dimension::length, site) + ", which makes " + rounded(cells / 1e6) +
                     " million cells and needs about " + rounded(memory_for(cells) / 1e9) + " GB",
                 "at most " + rounded(limits::grid_cells / 1e6) + " million cells",
                 "Use a cell of " + default_cell(box, site.units) + ", or compute a smaller outline.");
    if (area(site.outline) < site.cell * site.cell)
      table.fail("cell", written(site.cell, Dimension::length, site) + ", larger than the yard",
                 "a cell that fits many times into the outline",
                 "Use " + default_cell(box, site.units) + ".");
    return;
  }
  const std::string chosen = default_cell(box, site.units);
  site.cell = parse_quantity(chosen, Dimension::length).value;
  table.assume("cell", chosen);
  if (cells_in(box, site.cell) > limits::grid_cells)
    table.fail("outline", "a yard of " + written(area(site.outline), Dimension::area, site),
               "ground that fits into " + rounded(limits::grid_cells / 1e6) + " million cells",
               "Check `units`: coordinates are in " + site.units + ".");
}

// Coordinates of a system in metres read as feet would shrink the yard to a third, and nothing would show it.
void hold_against_units(const TableReader& table, const Site& site) {
  double unit = 0; // m
  try {
    unit = gis::metres_per_unit(site.crs, site.file.string());
  } catch (const InputError& error) {
    table.fail("crs", error.found, error.expected, error.mend);
  }
  constexpr double same = 1e-4; // the survey foot and the international one differ by 2e-6
  if (std::isnan(unit) || std::abs(unit / site.unit - 1) <= same) return;
  const std::string right = std::abs(unit - 1) <= same            ? "m"
                            : std::abs(unit / 0.3048 - 1) <= same ? "ft"
                                                                  : "";
  table.fail("crs",
             "\"" + site.crs + "\", whose coordinates are in units of " + rounded(unit, 6) +
                 " m, and units = \"" + site.units + "\"" + (table.has("units") ? "" : " (not written)"),
             "a system in the yard's `units`",
             right.empty()
                 ? "Name the system in feet or metres that the coordinates are in."
                 : "Write units = \"" + right +
                       "\" if the coordinates of the outline are in that system; else name theirs.");
}
} // namespace

void read_yard(const TableReader& root, Context& context) {
  Site& site = context.site;
  if (!root.has("site"))
    root.fail("site", "no [site] table", "[site] with name, units and outline",
              "Begin the file with [site], units = \"ft\" and outline = [[x, y], ...].");
  const TableReader table = *root.table("site");
  if (const auto name = table.maybe_text("name"))
    site.name = *name;
  else
    table.assume("name", site.name = "yard");
  if (table.has("units"))
    site.units = table.word("units", {"ft", "m"});
  else
    table.assume("units", site.units);
  site.unit = site.units == "ft" ? 0.3048 : 1.0;
  site.crs = table.maybe_text("crs").value_or(""); // outlines from files are brought into it
  if (!site.crs.empty()) hold_against_units(table, site);
  site.outline = table.outline();
  second_look_at_size(table, site);
  read_cell(table, site);
  site.north = table.maybe_quantity("north", Dimension::angle, Range::any).value_or(0.0);
  table.done();
}

} // namespace lowspot::site
