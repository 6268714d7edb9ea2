#include <lowspot/report/work_levels.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include <lowspot/base/text.hpp>
#include <lowspot/report/units.hpp>
#include <lowspot/site/combine.hpp>
#include <lowspot/site/wording.hpp>
#include <lowspot/terrain/reshape.hpp>
#include <lowspot/terrain/yard_grid.hpp>

namespace lowspot::report {
namespace {

constexpr double least_cut = 1e-3; // m: less is not dug

// The most that a piece of work takes off the ground [m]; not a number where it takes nothing.
double deepest_cut(const terrain::Ground& before, const terrain::Ground& after) {
  double most = 0;
  for (std::size_t c = 0; c < after.elevation.size(); ++c)
    if (after.active[c]) most = std::max(most, before.elevation[c] - after.elevation[c]);
  return most < least_cut ? std::numeric_limits<double>::quiet_NaN() : most;
}

class Collector {
public:
  Collector(const site::Site& site, const site::Design& design, const terrain::Ground& as_is,
            const job::CutSheet& sheet)
      : site_(site), design_(design), sheet_(sheet), as_is_(as_is),
        ground_(terrain::ground_of(site, as_is, design)) {
    site::Design shaped;
    shaped.regrades = design.regrades;
    before_basins_ = terrain::ground_of(site, as_is, shaped);
  }

  std::vector<WorkLevel> all() {
    for (const site::Outlet& outlet : design_.outlets)
      if (outlet.well.depth > 0)
        add(outlet);
      else if (outlet.kind == "pop-up")
        add_pop_up(outlet);
    for (const site::Inlet& inlet : design_.inlets) add(inlet);
    for (const site::Channel& channel : design_.channels) add(channel);
    for (const site::Basin& basin : design_.basins) add(basin);
    // Works follow each other as they are listed: each is dug in the ground that those before it leave.
    terrain::Ground before = as_is_;
    for (const site::Regrade& work : design_.regrades) {
      site::Design alone;
      alone.regrades = {work};
      terrain::Ground after = terrain::reshape(site_, before, alone);
      add(work, deepest_cut(before, after));
      before = std::move(after);
    }
    for (const site::Amend& work : design_.amends) add(work);
    for (const site::DownspoutChange& change : design_.downspouts) add(change);
    return works_;
  }

private:
  std::string length(double metres) const { return site::written(metres, Dimension::length, site_); }
  std::string ground_area(const Polygon& outline) const {
    return amount(area(outline), units_for(site_.units).area, 3);
  }
  std::string elevation(double metres) const { return elevation_text(metres, units_for(site_.units)); }
  double ground_at(const Point& at) const { return terrain::elevation_at(ground_, at); }

  void keep(WorkLevel work) {
    if (!site::stands_already(design_, work.name)) works_.push_back(std::move(work));
  }

  // "18 in across" of a round pit, "2 ft by 3 ft" of a square one.
  std::string plan(const site::Well& well) const {
    const double across = 4 * well.plan / well.perimeter;
    if (std::abs(std::numbers::pi * across - well.perimeter) < 1e-3 * well.perimeter)
      return length(across) + " across";
    const double half = well.perimeter / 4; // mean of both sides
    const double apart = std::sqrt(std::max(0.0, half * half - well.plan));
    return length(half - apart) + " by " + length(half + apart);
  }

  std::string arriving(const std::string& name) const {
    for (const job::CutRun& run : sheet_.runs)
      if (run.to == name && !run.stations.empty())
        return "; " + run.name + " comes in at invert " + elevation(run.stations.front().invert);
    return "";
  }

  // Of the pipe that leaves an inlet [m]: that of the lowest run that begins there, where it leads to nothing
  // else; else as given, or that of the run beside it.
  double leaves_at(const site::Inlet& inlet) const {
    double begins = std::numeric_limits<double>::infinity();
    for (const site::Run& run : design_.runs)
      for (const job::CutRun& cut : sheet_.runs)
        if (run.from == inlet.name && cut.name == run.name && !cut.stations.empty())
          begins = std::min(begins, cut.stations.back().invert); // stations go up from the foot
    if (inlet.to.empty() && std::isfinite(begins)) return begins;
    if (std::isfinite(inlet.depth)) return ground_at(inlet.at) - inlet.depth;
    double nearest = 0.5, invert = site::not_given; // m: farther is another place
    for (const job::CutRun& run : sheet_.runs)
      for (const job::CutStation& station : run.stations)
        if (const double away = distance(station.at, inlet.at); away < nearest)
          nearest = away, invert = station.invert;
    return invert;
  }

  void add(const site::Outlet& outlet) {
    const double top = ground_at(outlet.at), bottom = top - outlet.well.depth;
    std::string text = plan(outlet.well) + " at " + site::written(outlet.at, site_) + arriving(outlet.name);
    if (outlet.kind == "pump") {
      text += "; pump " + site::written(outlet.pump_rate, Dimension::flow, site_) + ", on at " +
              elevation(bottom + outlet.pump_on) + " (" + length(outlet.pump_on) +
              " over the bottom), off at " + elevation(bottom + outlet.pump_off) + " (" +
              length(outlet.pump_off) + "); its hose ends " +
              (outlet.discharge ? "at " + site::written(*outlet.discharge, site_) : "outside the yard");
    } else {
      text += "; room for " +
              site::written(outlet.well.plan * outlet.well.depth * outlet.well.void_share, Dimension::volume,
                            site_) +
              (outlet.well.void_share < 1
                   ? ", " + rounded(100 * outlet.well.void_share, 2) + " % of the pit left free by its fill"
                   : "");
    }
    keep({outlet.name, outlet.kind, text, top, bottom});
  }

  // Its lid is set by the rod as well: too high, and the drain backs up to it.
  void add_pop_up(const site::Outlet& outlet) {
    const double top = std::isfinite(outlet.lid) ? outlet.lid : ground_at(outlet.at);
    std::string text = "lid at " + elevation(top) +
                       (std::isfinite(outlet.lid) ? "" : ", flush with the ground") + ", at " +
                       site::written(outlet.at, site_);
    if (outlet.opening_head > 0) text += "; opens under " + length(outlet.opening_head) + " of water";
    text += outlet.weep > 0 ? "; weep hole " + length(outlet.weep) + " across at its foot" : "; no weep hole";
    keep({outlet.name, outlet.kind, text, top});
  }

  void add(const site::Inlet& inlet) {
    const double pipe = leaves_at(inlet);
    std::string text = "grate " + length(inlet.grate.width) + " by " + length(inlet.grate.length) + " at " +
                       site::written(inlet.at, site_);
    if (std::isfinite(pipe)) text += "; pipe leaves at invert " + elevation(pipe);
    if (!inlet.to.empty()) text += ", to " + inlet.to;
    if (inlet.sump > 0) text += "; sump " + length(inlet.sump) + " below it";
    keep({inlet.name, "inlet", text, ground_at(inlet.at), pipe - inlet.sump});
  }

  // Computed as one level trough below the lowest ground along it, as the drain is.
  void add(const site::Channel& channel) {
    const double whole = lowspot::length(channel.path);
    double top = std::numeric_limits<double>::infinity();
    for (int k = 0; k <= 20; ++k) top = std::min(top, ground_at(point_along(channel.path, whole * k / 20)));
    std::string text = length(channel.width) + " wide, " + length(whole) + " from " +
                       site::written(channel.path.front(), site_) + " to " +
                       site::written(channel.path.back(), site_) + "; its end leads to " + channel.to +
                       "; grate flush, ground at its ends " + elevation(ground_at(channel.path.front())) +
                       " and " + elevation(ground_at(channel.path.back()));
    keep({channel.name, "channel", text, top, top - channel.depth});
  }

  // Where the outline lies: the corners of a box around it.
  std::string within(const Polygon& outline) const {
    const Box box = bounds(outline);
    return "between " + site::written(box.low, site_) + " and " + site::written(box.high, site_);
  }

  std::string soil(double factor, double porosity, double depth) const {
    std::string text;
    if (factor != 1) text += ", lets " + rounded(factor, 3) + " times as much water through";
    if (porosity > 0) text += ", " + rounded(100 * porosity, 2) + " % more pores";
    if (depth > 0) text += "; tight layer loosened " + length(depth) + " deep";
    return text;
  }

  void add(const site::Amend& work) {
    keep({work.name, "improved soil",
          ground_area(work.outline) + " " + within(work.outline) + ": topsoil worked through" +
              soil(work.conductivity_factor, work.porosity_added, work.depth_added)});
  }

  // A change that an earlier stage has made is not made again.
  void add(const site::DownspoutChange& change) {
    for (const site::Design& first : site_.designs)
      if (!design_.after.empty() && first.name == design_.after)
        for (const site::DownspoutChange& before : first.downspouts)
          if (before.downspout == change.downspout && before.to == change.to) return;
    std::string text = change.to == "ground" ? "let out on the ground at its foot" : "led into " + change.to;
    for (const site::Building& building : site_.buildings)
      for (const site::Downspout& spout : building.downspouts)
        if (spout.name == change.downspout) text = "at " + site::written(spout.at, site_) + ": " + text;
    works_.push_back({change.downspout, "downspout", text});
  }

  // Lowest and highest finished ground inside a shape.
  std::pair<double, double> range(const Mask& inside) const {
    double low = std::numeric_limits<double>::infinity(), high = -low;
    for (std::size_t c = 0; c < inside.size(); ++c)
      if (inside[c] && ground_.active[c])
        low = std::min(low, ground_.elevation[c]), high = std::max(high, ground_.elevation[c]);
    return {low, high};
  }

  // Lowest finished ground on the cells around a shape, or where it reaches an open edge of the yard [m].
  double rim(const Mask& inside) const {
    const Grid& grid = ground_.grid;
    Mask around(inside.size(), 0);
    for (std::size_t c = 0; c < inside.size(); ++c) {
      if (!inside[c]) continue;
      const int i = grid.column(c), j = grid.row(c);
      if (i > 0) around[grid.index(i - 1, j)] = 1;
      if (i + 1 < grid.nx) around[grid.index(i + 1, j)] = 1;
      if (j > 0) around[grid.index(i, j - 1)] = 1;
      if (j + 1 < grid.ny) around[grid.index(i, j + 1)] = 1;
    }
    for (std::size_t c = 0; c < inside.size(); ++c)
      if (inside[c]) around[c] = 0;
    return std::min(range(around).first, open_edge(inside));
  }

  // Lowest ground within a shape, before it is dug, from which water leaves the yard [m].
  double open_edge(const Mask& inside) const {
    double lowest = std::numeric_limits<double>::infinity();
    for (const terrain::EdgeFace& face : before_basins_.edges)
      if (face.open && inside[face.cell] && before_basins_.active[face.cell])
        lowest = std::min(lowest, before_basins_.elevation[face.cell]);
    return lowest;
  }

  std::string sides(double slope) const { return "sides 1 to " + rounded(1 / slope, 2); }

  void add(const site::Basin& basin) {
    const Mask inside = terrain::centres_inside(ground_.grid, basin.outline);
    const double overflow = std::isfinite(basin.overflow) ? basin.overflow : rim(inside);
    std::string text =
        ground_area(basin.outline) + " at its rim, " + sides(basin.side_slope) + "; water stands up to ";
    // Banks that meet before the bottom is reached leave less than is meant.
    const double low = range(inside).first, held = std::max(0.0, overflow - low);
    const bool as_meant = !std::isfinite(held) || held > 0.98 * basin.depth;
    text += length(as_meant ? basin.depth : held) + " deep, then runs over at the top";
    if (basin.depth_added > 0) text += "; tight layer loosened " + length(basin.depth_added) + " deep";
    keep({basin.name, "rain garden", text, overflow, low});
  }

  void add(const site::Regrade& work, double cut) {
    if (work.kind == "plane") {
      const auto [low, high] = range(terrain::centres_inside(ground_.grid, work.outline));
      keep({work.name, work.kind,
            ground_area(work.outline) + ", an even slope from its highest to its lowest side", high, low, cut,
            true});
      return;
    }
    const Point3 &first = work.path.front(), &last = work.path.back();
    const std::string part = work.kind == "swale" ? "bed " : "crest ";
    double low = first.z, high = first.z;
    for (const Point3& point : work.path) low = std::min(low, point.z), high = std::max(high, point.z);
    keep({work.name, work.kind,
          part + length(work.width) + " wide, " + sides(work.side_slope) + ", from " + elevation(first.z) +
              " at " + site::written(Point{first.x, first.y}, site_) + " to " + elevation(last.z) + " at " +
              site::written(Point{last.x, last.y}, site_),
          high, low, cut, true});
  }

  const site::Site& site_;
  const site::Design& design_;
  const job::CutSheet& sheet_;
  const terrain::Ground& as_is_;
  const terrain::Ground ground_;
  terrain::Ground before_basins_;
  std::vector<WorkLevel> works_;
};

} // namespace

std::string named_with_kind(const std::string& name, const std::string& kind) {
  return name == kind ? name : name + " (" + kind + ")";
}

std::vector<WorkLevel> work_levels(const site::Site& site, const site::Design& design,
                                   const terrain::Ground& as_is, const job::CutSheet& sheet) {
  return Collector(site, design, as_is, sheet).all();
}

} // namespace lowspot::report
