#include <lowspot/job/takeoff.hpp>

#include <algorithm>
#include <cmath>
#include <map>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/job/leaders.hpp>
#include <lowspot/job/other_works.hpp>
#include <lowspot/job/pieces.hpp>
#include <lowspot/job/reshaped.hpp>
#include <lowspot/site/area_at.hpp>
#include <lowspot/site/combine.hpp>
#include <lowspot/site/wording.hpp>
#include <lowspot/terrain/reshape.hpp>

namespace lowspot::job {
namespace {

constexpr double slice = 0.05; // m

std::string percent_waste(double share) {
  return rounded(100 * share, 3) + " % waste";
}

// Lines of the same item become one.
class Lines {
public:
  TakeoffLine& line(const std::string& group, const std::string& item, Measure measure) {
    for (TakeoffLine& line : lines)
      if (line.item == item && line.group == group) return line;
    TakeoffLine line;
    line.group = group;
    line.item = item;
    line.measure = measure;
    lines.push_back(line);
    return lines.back();
  }
  void add(const std::string& group, const std::string& item, Measure measure, double net,
           const std::string& allowance, double factor, double density = 0) {
    TakeoffLine& entry = line(group, item, measure);
    entry.net += net;
    entry.ordered += net * factor;
    entry.mass += net * factor * density;
    // Where parts of a line are measured in two ways, both are said.
    const std::size_t share = std::min(allowance.find("; "), allowance.size());
    if (entry.allowance.empty())
      entry.allowance = allowance;
    else if (entry.allowance.find(allowance.substr(share)) == std::string::npos)
      entry.allowance += allowance.substr(share);
  }
  std::vector<TakeoffLine> lines;
};

// What is loaded with the stone, and sold by the ton as well: not chips of wood or a grate.
double density_of_cap(const site::Run& run) {
  const std::string name = lower(run.cap.name);
  const auto has = [&](const char* word) { return name.find(word) != std::string::npos; };
  const bool mineral = (has("stone") || has("gravel") || has("rock")) && !has("mulch");
  return mineral ? run.stone.bulk_density : 0;
}

void add_pipe(const site::Site& site, const CutRun& cut, Lines& lines) {
  TakeoffLine& pipe = lines.line("pipe", cut.pipe, Measure::length);
  pipe.net += cut.length;
  const double wanted = pipe.net * (1 + site.ordering.pipe_waste);
  pipe.ordered = std::ceil(wanted / site.ordering.pipe_piece - 1e-9) * site.ordering.pipe_piece;
  pipe.allowance = percent_waste(site.ordering.pipe_waste) + ", whole pieces of " +
                   (site.units == "ft" ? rounded(site.ordering.pipe_piece / 0.3048, 3) + " ft"
                                       : rounded(site.ordering.pipe_piece, 3) + " m");
}

// What pipe in backfill is bedded on: the stone that it names; else the one kind that the design has in its
// trenches, which comes on the same truck; else any that is fit for it.
site::StoneChoice bedding_stone(const site::Design& design, const site::Run& run) {
  if (!run.stone.name.empty()) return run.stone;
  const site::StoneChoice* only = nullptr;
  bool several = false;
  for (const site::Run& each : design.runs) {
    if (!each.has_trench || each.stone.name.empty()) continue;
    several = several || (only != nullptr && only->name != each.stone.name);
    only = &each.stone;
  }
  if (only != nullptr && !several) return *only;
  site::StoneChoice any = run.stone;
  any.name = "bedding stone";
  return any;
}

void add_trench(const site::Site& site, const site::Design& design, const site::Run& run, const CutRun& cut,
                Lines& lines) {
  const site::Ordering& ordering = site.ordering;
  lines.add("digging", "trench", Measure::length, cut.length, "", 1);
  const double pipe_volume = 0.25 * M_PI * cut.outside_diameter * cut.outside_diameter * cut.length;
  if (!run.has_trench) {
    const double pipe = std::min(pipe_volume, cut.spoil);
    const double bedding = std::min(run.bedding * cut.width * cut.length, cut.spoil - pipe);
    const site::StoneChoice stone = bedding_stone(design, run);
    if (bedding > 0)
      lines.add("stone", stone.name, Measure::volume, bedding, percent_waste(ordering.stone_waste),
                1 + ordering.stone_waste, stone.bulk_density);
    lines.add("digging", "backfill", Measure::volume, cut.spoil - pipe - bedding, "", 1);
    lines.add("digging", "spoil hauled away", Measure::volume, pipe + bedding,
              rounded(100 * (ordering.swell - 1), 3) + " % swell", ordering.swell);
  } else {
    lines.add("stone", run.stone.name, Measure::volume, cut.stone, percent_waste(ordering.stone_waste),
              1 + ordering.stone_waste, run.stone.bulk_density);
    if (!run.fabric.name.empty()) {
      // Around all the stone, with a lap over its top; under open stone, where a cloth would close the top,
      // it lines bottom and sides.
      const double height = (cut.stone + pipe_volume) / (cut.width * cut.length);
      lines.add("fabric", run.fabric.name, Measure::area,
                (cut.width + 2 * height + (run.cap.of_stone ? 0 : cut.width + ordering.fabric_lap)) *
                    cut.length,
                percent_waste(ordering.fabric_waste) + (run.cap.of_stone
                                                            ? "; under open stone bottom and sides alone"
                                                            : "; the lap over the stone is counted in place"),
                1 + ordering.fabric_waste);
    }
    const double cap = std::max(0.0, cut.spoil - cut.stone - pipe_volume);
    if (cap > 0 && run.cap.of_topsoil)
      lines.add("digging", "backfill", Measure::volume, cap, "", 1);
    else if (cap > 0 && run.cap.of_stone) // that of the trench brought up to the top: one kind, bought as one
      lines.add("stone", run.stone.name, Measure::volume, cap, percent_waste(ordering.stone_waste),
                1 + ordering.stone_waste, run.stone.bulk_density);
    else if (cap > 0)
      lines.add("cap", run.cap.name, Measure::volume, cap, percent_waste(ordering.stone_waste),
                1 + ordering.stone_waste, density_of_cap(run));
    lines.add("digging", "spoil hauled away", Measure::volume,
              std::max(0.0, cut.spoil - (run.cap.of_topsoil ? cap : 0)),
              rounded(100 * (ordering.swell - 1), 3) + " % swell", ordering.swell);
  }
  const double sod = sod_area(site, run);
  if (sod > 0)
    lines.add("restoring", "sod", Measure::area, sod, percent_waste(ordering.sod_waste),
              1 + ordering.sod_waste);
}

struct Per {
  const char* name;
  Measure measure;
  double si;
};

// Weights and truckloads are told apart from the rest below.
constexpr Per per_units[] = {{"ft", Measure::length, 0.3048},
                             {"m", Measure::length, 1},
                             {"ft2", Measure::area, 0.09290304},
                             {"m2", Measure::area, 1},
                             {"yd3", Measure::volume, 0.764554857984},
                             {"m3", Measure::volume, 1},
                             {"hour", Measure::time, 3600},
                             {"each", Measure::count, 1}};

// "ft or m", "yd3, m3, ton, tonne or load": what measures a line.
std::string units_of(const TakeoffLine& line) {
  std::vector<std::string> names;
  for (const Per& unit : per_units)
    if (unit.measure == line.measure) names.emplace_back(unit.name);
  if (line.mass > 0) names.insert(names.end(), {"ton", "tonne"});
  if (line.loads > 0) names.emplace_back("load");
  std::string text;
  for (std::size_t k = 0; k < names.size(); ++k)
    text += (k == 0 ? "" : k + 1 == names.size() ? " or " : ", ") + names[k];
  return text;
}

// How many of the rate's units a line holds; empty when it is not measured so.
double units_in(const TakeoffLine& line, const std::string& per) {
  if (per == "ton") return line.mass > 0 ? line.mass / 907.18474 : unpriced;
  if (per == "tonne") return line.mass > 0 ? line.mass / 1000 : unpriced;
  if (per == "load") return line.loads > 0 ? line.loads : unpriced;
  for (const Per& unit : per_units)
    if (per == unit.name) return unit.measure == line.measure ? line.ordered / unit.si : unpriced;
  return unpriced;
}

void apply_rates(const site::Site& site, Takeoff& takeoff) {
  for (TakeoffLine& line : takeoff.lines) {
    const auto rate =
        std::find_if(site.ordering.rates.begin(), site.ordering.rates.end(),
                     [&](const site::Rate& each) { return lower(each.item) == lower(line.item); });
    if (rate == site.ordering.rates.end()) {
      ++takeoff.without_price;
      continue;
    }
    const double count = units_in(line, rate->per);
    if (!std::isfinite(count))
      throw InputError({site.file.string(), rate->line, "rate.per"},
                       "\"" + rate->per + "\" for \"" + line.item + "\"", "a unit that measures it",
                       "Write per = " + units_of(line) + ", in quotes, with the price for that.");
    line.price = rate->price;
    line.per = rate->per;
    line.cost = count * rate->price;
    takeoff.cost += line.cost;
  }
}

// Lawn that regrading and pits take away [m2]: whether it is sodded or seeded is not said.
double lawn_laid_open(const site::Site& site, const site::Design& design, const terrain::Ground& ground) {
  double sum = 0;
  const Mask cells = reshaped_cells(site, design, ground);
  const Grid& grid = ground.grid;
  for (std::size_t c = 0; c < cells.size(); ++c)
    if (cells[c] && site::is_lawn(site::area_at(site, {grid.x(grid.column(c)), grid.y(grid.row(c))})))
      sum += grid.cell_area();
  for (const site::Outlet& outlet : design.outlets)
    if (!site::stands_already(design, outlet.name) && site::is_lawn(site::area_at(site, outlet.at)))
      sum += outlet.well.plan;
  return sum;
}

Takeoff quantities(const site::Site& site, const site::Design& design, const terrain::Ground& ground) {
  const CutSheet sheet = make_cut_sheet(site, design, ground, 1.524);
  Lines lines;
  for (const CutRun& cut : sheet.runs) {
    const auto run = std::find_if(design.runs.begin(), design.runs.end(),
                                  [&](const site::Run& each) { return each.name == cut.name; });
    if (run->pipe.diameter > 0) add_pipe(site, cut, lines);
  }
  for (const CutRun& cut : sheet.runs) {
    const auto run = std::find_if(design.runs.begin(), design.runs.end(),
                                  [&](const site::Run& each) { return each.name == cut.name; });
    add_trench(site, design, *run, cut, lines);
  }
  std::map<std::string, int> standing;
  if (!design.after.empty())
    for (const auto& [piece, count] : pieces_of(site::what_stands(design), site.units == "ft"))
      standing[piece] = count;
  for (const auto& [piece, count] : pieces_of(design, site.units == "ft", heads_taken(site, design)))
    if (count > standing[piece]) lines.add("fittings", piece, Measure::count, count - standing[piece], "", 1);
  for (const std::string& adapter : adapters_of(site, design))
    lines.add("fittings", adapter, Measure::count, 1, "", 1);
  for (const std::string& tee : tees_of(site, design)) lines.add("fittings", tee, Measure::count, 1, "", 1);
  for (const WorkQuantity& work : other_works(site, design, ground))
    lines.add(work.group, work.item, work.measure, work.net, work.allowance, work.factor, work.density);
  if (std::isfinite(site.ordering.dig_rate)) {
    double total = 0;
    for (const CutRun& cut : sheet.runs) total += cut.length;
    lines.add("digging", "crew", Measure::time, total / site.ordering.dig_rate, "at your own rate", 1);
  }
  // Of what comes over the stone only what is stone itself comes by the truck: chips of wood do in bags, too.
  for (TakeoffLine& line : lines.lines)
    if (line.measure == Measure::volume && (line.group != "cap" || line.mass > 0) &&
        line.group != "earthwork" && line.item != "backfill")
      line.loads = std::ceil(line.ordered / site.ordering.truck - 1e-9);
  std::stable_sort(lines.lines.begin(), lines.lines.end(), [](const TakeoffLine& a, const TakeoffLine& b) {
    const std::vector<std::string> order = {"pipe", "fittings", "stone",     "fabric",
                                            "cap",  "digging",  "earthwork", "restoring"};
    const auto place = [&](const TakeoffLine& line) {
      return std::find(order.begin(), order.end(), line.group) - order.begin();
    };
    return place(a) < place(b);
  });
  Takeoff takeoff;
  takeoff.design = design.name;
  takeoff.lines = std::move(lines.lines);
  takeoff.notes = sheet.warnings;
  const bool pits = std::any_of(design.outlets.begin(), design.outlets.end(), [&](const site::Outlet& each) {
    return each.well.plan > 0 && !site::stands_already(design, each.name);
  });
  if (std::isfinite(site.ordering.dig_rate) && (pits || terrain::changes_ground(design)))
    takeoff.notes.emplace_back(
        "the hours of the crew are those of its trenches: pits and earth that is moved "
        "are dug at other rates and come on top");
  if (const double lawn = lawn_laid_open(site, design, ground); lawn > 0)
    takeoff.notes.push_back(
        "sod is counted for trenches alone: " + site::written(lawn, Dimension::area, site) +
        " of lawn that is given another shape or dug away over pits asks for sod or seed, "
        "too");
  for (const site::Outlet& outlet : design.outlets)
    if (outlet.kind == "pump" && !outlet.discharge)
      takeoff.notes.push_back("the discharge line of '" + outlet.name +
                              "' is not counted, since its end is not given (discharge)");
  return takeoff;
}

std::vector<std::string> items_of(const Takeoff& takeoff) {
  std::vector<std::string> items;
  for (const TakeoffLine& line : takeoff.lines) items.push_back(lower(line.item));
  return items;
}

// Less than a bucket or two, such as the lid of a trench whose own stone is open, is not ordered by itself.
void leave_out_small(Takeoff& takeoff) {
  std::erase_if(takeoff.lines, [](const TakeoffLine& line) {
    return line.measure == Measure::volume && line.ordered < 0.02;
  });
}

// A rate for another design's parts is in order; one that names nothing at all is a slip of the pen. Where a
// design cannot be built, nobody knows what its parts are: then no rate is called a slip, and a note says so.
// `known`: the items of the take-off itself, those that are too little to order among them.
void look_for_slips(const site::Site& site, const terrain::Ground& ground, Takeoff& takeoff,
                    std::vector<std::string> known) {
  const auto unknown = [&] {
    return std::find_if(site.ordering.rates.begin(), site.ordering.rates.end(), [&](const site::Rate& rate) {
      return std::find(known.begin(), known.end(), lower(rate.item)) == known.end();
    });
  };
  std::string unbuilt;
  for (const site::Design& each : site.designs) {
    if (unknown() == site.ordering.rates.end()) return;
    if (each.name == takeoff.design) continue;
    try {
      for (std::string& item : items_of(quantities(site, each, ground))) known.push_back(std::move(item));
    } catch (const InputError&) {
      unbuilt = each.name;
    }
  }
  const auto slip = unknown();
  if (slip == site.ordering.rates.end()) return;
  if (!unbuilt.empty()) {
    takeoff.notes.push_back("the price of '" + slip->item + "' is not used here; whether '" + unbuilt +
                            "' needs it is not known, since that design cannot be built");
    return;
  }
  // Misspelt, or a part of the name; else all there are, since the take-off cannot list them before it is
  // mended.
  std::string near = nearest(lower(slip->item), known);
  for (const std::string& item : known)
    if (near.empty() && item.find(lower(slip->item)) != std::string::npos) near = item;
  std::sort(known.begin(), known.end());
  known.erase(std::unique(known.begin(), known.end()), known.end());
  std::string all;
  for (const std::string& item : known) all += (all.empty() ? "\"" : ", \"") + item + "\"";
  throw InputError({site.file.string(), slip->line, "rate.item"}, "\"" + slip->item + "\"",
                   "an item of the take-off of some design",
                   near.empty() ? "Items are " + all + "." : "did you mean \"" + near + "\"?");
}

} // namespace

double sod_area(const site::Site& site, const site::Run& run) {
  // Stone or mulch left open to the sky is not turfed over.
  if (run.has_trench && !run.cap.of_topsoil) return 0;
  const double total = length(run.path);
  const int pieces = std::max(1, static_cast<int>(std::ceil(total / slice)));
  const double step = total / pieces;
  double along_lawn = 0;
  for (int k = 0; k < pieces; ++k) {
    const Point at = point_along(run.path, (k + 0.5) * step);
    if (site::is_lawn(site::area_at(site, at))) along_lawn += step;
  }
  return along_lawn * (dug_width(site, run) + 2 * site.ordering.sod_margin);
}

Takeoff take_off(const site::Site& site, const site::Design& design, const terrain::Ground& ground) {
  Takeoff takeoff = quantities(site, design, ground);
  std::vector<std::string> known = items_of(takeoff);
  leave_out_small(takeoff);
  apply_rates(site, takeoff);
  look_for_slips(site, ground, takeoff, std::move(known));
  return takeoff;
}

} // namespace lowspot::job
