#include <lowspot/site/materials.hpp>

#include <charconv>
#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/site/names.hpp>
#include <lowspot/site/rule_length.hpp>
#include <lowspot/site/usual_range.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {
enum class Openings { slotted, solid, unsaid };

// Takes ", slotted" or ", solid" off the end of a pipe's name.
Openings take_openings(std::string& name) {
  const std::size_t comma = name.rfind(',');
  if (comma == std::string::npos) return Openings::unsaid;
  const std::string last = lower(trim(name.substr(comma + 1)));
  if (last != "slotted" && last != "perforated" && last != "solid") return Openings::unsaid;
  name = trim(name.substr(0, comma));
  return last == "solid" ? Openings::solid : Openings::slotted;
}

void use_row(const TableReader& table, const std::string& key, const std::string& given, bool in_trench,
             PipeChoice& pipe) {
  std::string name = given;
  Openings openings = take_openings(name);
  const catalog::Pipe& row = row_named(table, key, table.context().catalog.pipes, name,
                                       "pipe (followed by \", slotted\" or \", solid\")");
  if (openings == Openings::unsaid) {
    openings = in_trench && row.slot_area > 0 ? Openings::slotted : Openings::solid;
    table.assume(key, row.name + (openings == Openings::slotted ? ", slotted" : ", solid"));
  }
  const bool slotted = openings == Openings::slotted;
  if (slotted && !(row.slot_area > 0))
    table.fail(key, "\"" + given + "\"", "\"" + row.name + ", solid\": this kind is not made with slots",
               "Choose another pipe, or give own figures with slot_area.");
  pipe.name = row.name + (slotted ? ", slotted" : ", solid");
  pipe.diameter = row.inside_diameter;
  pipe.outside_diameter = row.outside_diameter;
  pipe.manning_n = row.manning_n.value;
  pipe.slot_area = slotted ? row.slot_area : 0;
}

// "200 s2/m2": a unit that stands nowhere else in a site file.
double read_forchheimer(const TableReader& table) {
  const std::string key = "forchheimer_b", expected = "a figure in s2/m2, for example \"200 s2/m2\"";
  const std::string given = table.text(key, expected);
  double value = -1;
  const auto [end, problem] = std::from_chars(given.data(), given.data() + given.size(), value);
  if (problem != std::errc() || trim(end) != "s2/m2" || !(value >= 0 && std::isfinite(value)))
    table.fail(key, "\"" + given + "\"", expected, "It is the b of: gradient = q / conductivity + b q |q|.");
  return value;
}
} // namespace

PipeChoice read_pipe(const TableReader& run, bool in_trench) {
  PipeChoice pipe;
  if (!run.is_table("pipe")) {
    use_row(run, "pipe", run.text("pipe", "a pipe such as \"4 in corrugated, slotted\""), in_trench, pipe);
    return pipe;
  }
  const TableReader table = *run.table("pipe");
  const auto kind = table.maybe_text("kind");
  if (kind)
    use_row(table, "kind", *kind, in_trench, pipe);
  else
    pipe.name = table.maybe_text("name").value_or("");
  if (!kind || table.has("diameter")) {
    pipe.diameter = table.quantity("diameter", Dimension::length, Range::positive);
    warn_outside(table, "diameter", pipe.diameter, usual::pipe_diameter);
    pipe.outside_diameter = pipe.diameter;
  }
  if (!kind && !table.has("name"))
    pipe.name = written(pipe.diameter, Dimension::length, run.context().site) + " pipe, own figures";
  if (const auto outside = table.maybe_quantity("outside_diameter", Dimension::length, Range::positive))
    pipe.outside_diameter = *outside;
  if (const auto n = table.maybe_number("manning_n", 1e-3, 0.2))
    pipe.manning_n = *n;
  else if (!kind) {
    pipe.manning_n = 0.015; // corrugated, the usual pipe in a yard
    table.assume("manning_n", "0.015");
  }
  if (const auto openings = table.maybe_quantity("slot_area", Dimension::area_per_length))
    pipe.slot_area = *openings, warn_outside(table, "slot_area", *openings, usual::pipe_openings);
  else if (!kind)
    table.assume("slot_area", "none (solid)");
  if (const auto c = table.maybe_number("discharge_coefficient", 0.05, 1)) pipe.discharge_coefficient = *c;
  if (pipe.outside_diameter < pipe.diameter)
    table.fail("outside_diameter", written(pipe.outside_diameter, Dimension::length, run.context().site),
               "at least the inside diameter", "`diameter` is the inside; outside_diameter adds the wall.");
  table.done();
  return pipe;
}

StoneChoice read_stone(const TableReader& run) {
  const auto& context = run.context();
  const auto from_row = [](const catalog::Stone& row) {
    StoneChoice stone{row.name, row.porosity.value, row.conductivity.value, row.forchheimer_b};
    if (row.bulk_density > 0) stone.bulk_density = row.bulk_density;
    return stone;
  };
  if (!run.is_table("stone")) {
    if (run.has("stone"))
      return from_row(row_named(run, "stone", context.catalog.stones, run.text("stone"), "stone"));
    const std::string usual = "No. 57, rounded, washed";
    run.assume("stone", usual);
    return from_row(row_named(run, "stone", context.catalog.stones, usual, "stone"));
  }
  const TableReader table = *run.table("stone");
  StoneChoice stone;
  const auto kind = table.maybe_text("kind");
  if (kind)
    stone = from_row(row_named(table, "kind", context.catalog.stones, *kind, "stone"));
  else
    stone.name = table.maybe_text("name").value_or("own figures");
  if (!kind || table.has("porosity")) stone.porosity = table.number("porosity", 0.05, 0.95);
  if (!kind || table.has("conductivity")) {
    stone.conductivity = table.quantity("conductivity", Dimension::speed, Range::positive);
    warn_outside(table, "conductivity", stone.conductivity, usual::stone_conductivity);
    stone.forchheimer_b = 0; // a conductivity of one's own holds at every gradient
  }
  if (table.has("forchheimer_b")) stone.forchheimer_b = read_forchheimer(table);
  table.done();
  return stone;
}

FabricChoice read_fabric(const TableReader& run) {
  const auto& context = run.context();
  FabricChoice fabric;
  const auto use = [&](const TableReader& at, const std::string& key, const std::string& name) {
    if (lower(name) == "none") return;
    const catalog::Fabric& row = row_named(at, key, context.catalog.fabrics, name, "fabric (or \"none\")");
    fabric.name = row.name;
    fabric.permittivity = row.permittivity.value;
  };
  if (!run.has("fabric")) {
    run.assume("fabric", "none");
    return fabric;
  }
  if (!run.is_table("fabric")) {
    use(run, "fabric", run.text("fabric"));
    return fabric;
  }
  const TableReader table = *run.table("fabric");
  const auto kind = table.maybe_text("kind");
  if (kind)
    use(table, "kind", *kind);
  else
    fabric.name = table.maybe_text("name").value_or("own figures");
  if (!kind || table.has("permittivity")) {
    fabric.permittivity = table.quantity("permittivity", Dimension::per_time, Range::positive);
    warn_outside(table, "permittivity", fabric.permittivity, usual::fabric_permittivity);
  }
  if (const auto clogging = table.maybe_number("clogging", 1, 1e6))
    fabric.clogging = *clogging;
  else
    table.assume("clogging", "1 (new)");
  table.done();
  return fabric;
}

CapChoice read_cap(const TableReader& run, double topsoil, double stone) {
  const auto& context = run.context();
  CapChoice cap;
  const auto use = [&](const TableReader& at, const std::string& key, const std::string& name) {
    const catalog::Cap& row = row_named(at, key, context.catalog.caps, name, "cap");
    cap.name = row.name;
    // A row without a conductivity is made of what is there: topsoil, or stone where it has no depth either.
    const bool borrowed = !(row.conductivity.value > 0);
    cap.of_topsoil = borrowed && row.depth > 0;
    cap.of_stone = borrowed && !cap.of_topsoil;
    cap.conductivity = !borrowed ? row.conductivity.value : cap.of_topsoil ? topsoil : stone;
    cap.depth = usual_size_of(row.depth, context.site);
  };
  if (!run.is_table("cap")) {
    const std::string usual = "sod"; // what a crew lays when nothing is said
    if (!run.has("cap")) run.assume("cap", usual);
    use(run, "cap", run.maybe_text("cap").value_or(usual));
    if (cap.depth > 0) run.assume("cap.depth", written(cap.depth, Dimension::length, context.site));
    return cap;
  }
  const TableReader table = *run.table("cap");
  const auto kind = table.maybe_text("kind");
  if (kind)
    use(table, "kind", *kind);
  else
    cap.name = table.maybe_text("name").value_or("own figures");
  if (const auto depth = table.maybe_quantity("depth", Dimension::length))
    cap.depth = *depth;
  else if (kind) {
    if (cap.depth > 0) table.assume("depth", written(cap.depth, Dimension::length, context.site));
  } else
    cap.depth = table.quantity("depth", Dimension::length);
  if (!kind || table.has("conductivity")) {
    cap.conductivity = table.quantity("conductivity", Dimension::speed);
    warn_outside(table, "conductivity", cap.conductivity, usual::cap_conductivity);
    cap.of_topsoil = cap.of_stone = false;
  }
  table.done();
  return cap;
}

} // namespace lowspot::site
