#include <lowspot/job/other_works.hpp>

#include <algorithm>
#include <cmath>
#include <numeric>

#include <lowspot/base/quantity.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/job/leaders.hpp>
#include <lowspot/site/combine.hpp>
#include <lowspot/site/wording.hpp>
#include <lowspot/terrain/coverage.hpp>
#include <lowspot/terrain/reshape.hpp>

namespace lowspot::job {
namespace {

constexpr double hollow = 0.9;    // void share from which a well is a chamber, not stone
constexpr double grains = 2650.0; // kg/m3 of solid stone, as in the catalogue: what is no void weighs as much

class Works {
public:
  Works(const site::Site& site, const site::Design& design) : site_(site), design_(design) {}

  bool is_new(const std::string& name) const { return !site::stands_already(design_, name); }
  std::string size(double metres) const { return site::written(metres, Dimension::length, site_); }
  void add(const std::string& group, const std::string& item, Measure measure, double net,
           const std::string& allowance = "", double factor = 1, double density = 0) {
    if (net > 0) list.push_back({group, item, measure, net, allowance, factor, density});
  }
  void haul(const std::string& item, double volume) {
    add("digging", item, Measure::volume, volume, rounded(100 * (site_.ordering.swell - 1), 3) + " % swell",
        site_.ordering.swell);
  }

  void pipework() {
    for (const site::Inlet& inlet : design_.inlets)
      if (is_new(inlet.name))
        add("fittings",
            "inlet box with a grate " + size(inlet.grate.width) + " by " + size(inlet.grate.length),
            Measure::count, 1);
    for (const site::Channel& channel : design_.channels)
      if (is_new(channel.name))
        add("fittings", "channel with a grate, " + size(channel.width) + " wide", Measure::length,
            length(channel.path));
    for (const Leader& leader : leaders_of(site_, design_)) {
      const std::string size = leader.size.empty() ? "" : ", " + leader.size;
      add("pipe", "leader pipe of downspouts" + size, Measure::length, leader.length,
          "straight, " + rounded(100 * site_.ordering.pipe_waste, 3) + " % waste",
          1 + site_.ordering.pipe_waste);
    }
    for (const site::Fitting& fitting : design_.fittings)
      if (is_new(fitting.name) && fitting.cleanout > 0)
        add("fittings", "cleanout, " + size(fitting.cleanout), Measure::count, 1);
    for (const site::Outlet& outlet : design_.outlets) {
      if (!is_new(outlet.name) || outlet.well.plan <= 0) continue;
      const double dug = outlet.well.plan * outlet.well.depth;
      haul("spoil hauled away", dug);
      if (outlet.kind == "pump")
        pump(outlet);
      else if (outlet.well.void_share >= hollow)
        add("fittings", "dry well chamber", Measure::count, 1);
      else
        stone_in(outlet.well);
    }
  }

  // Without cloth all round it the soil would wash into the stone.
  void stone_in(const site::Well& well) {
    add("stone", "stone in dry wells", Measure::volume, well.plan * well.depth,
        rounded(100 * site_.ordering.stone_waste, 3) + " % waste", 1 + site_.ordering.stone_waste,
        grains * (1 - well.void_share));
    add("fabric", "fabric around dry wells", Measure::area, 2 * well.plan + well.perimeter * well.depth,
        rounded(100 * site_.ordering.fabric_waste, 3) + " % waste; bottom, sides and top",
        1 + site_.ordering.fabric_waste);
  }

  // The line that the pump pushes through, straight to its end: what is laid round corners is more.
  void pump(const site::Outlet& outlet) {
    add("fittings", "pump in its basin", Measure::count, 1);
    add("fittings", "check valve of the pump", Measure::count, 1);
    if (outlet.discharge)
      add("pipe", "discharge line of the pump", Measure::length, distance(outlet.at, *outlet.discharge),
          "straight, " + rounded(100 * site_.ordering.pipe_waste, 3) + " % waste",
          1 + site_.ordering.pipe_waste);
  }

  void earth(const terrain::Ground& ground) {
    if (!terrain::changes_ground(design_)) return;
    const terrain::Ground shaped = terrain::ground_of(site_, ground, design_);
    double cut = 0, fill = 0;
    for (const terrain::Earthwork& work : shaped.earthworks)
      if (is_new(work.name)) {
        cut += work.cut;
        fill += work.fill;
      }
    add("earthwork", "ground cut", Measure::volume, cut);
    add("earthwork", "ground filled", Measure::volume, fill);
    haul("spoil hauled away", cut - fill);
    haul("soil brought in", fill - cut);
    amended_soil(ground.grid);
  }

  // As it is drawn, whatever the cells take for it: on the open ground of the yard, the later work where two
  // lie over each other.
  void amended_soil(const Grid& grid) {
    std::vector<std::string> names;
    std::vector<Polygon> outlines;
    const auto take = [&](const auto& work) {
      names.push_back(work.name);
      outlines.push_back(work.outline);
    };
    for (const site::Basin& basin : design_.basins)
      if (basin.conductivity_factor != 1 || basin.porosity_added > 0 || basin.depth_added > 0) take(basin);
    for (const site::Amend& amend : design_.amends) take(amend);
    if (names.empty()) return;
    for (const site::Building& building : site_.buildings) outlines.push_back(building.outline);
    outlines.push_back(terrain::outside_of(site_.outline, grid));
    const std::vector<terrain::Coverage> visible = terrain::visible_coverage(grid, outlines);
    for (std::size_t k = 0; k < names.size(); ++k) {
      const std::vector<double>& shares = visible[k].fractions;
      if (is_new(names[k]))
        add("earthwork", "soil amended", Measure::area,
            std::accumulate(shares.begin(), shares.end(), 0.0) * grid.cell_area());
    }
  }

  std::vector<WorkQuantity> list;

private:
  const site::Site& site_;
  const site::Design& design_;
};

} // namespace

std::vector<WorkQuantity> other_works(const site::Site& site, const site::Design& design,
                                      const terrain::Ground& ground) {
  Works works(site, design);
  works.pipework();
  works.earth(ground);
  return works.list;
}

} // namespace lowspot::job
