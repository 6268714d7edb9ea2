#include <lowspot/study/relevel.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/site/combine.hpp>
#include <lowspot/site/wording.hpp>
#include <lowspot/yard/drain_layout.hpp>

namespace lowspot::study {
namespace {

constexpr double nothing = 1e-9;

struct Levels {
  std::vector<std::vector<double>> inverts; // one list a run
};

// Where the parts of a design stand to each other.
struct Chain {
  const site::Design& design;
  const std::vector<bool>& varied;

  bool stands(std::size_t run) const { return site::stands_already(design, design.runs[run].name); }
  // That carries on from its foot; -1: none that is laid anew, it ends at an outlet or where a run stands
  // already, whose level it has to meet.
  int next(std::size_t run) const {
    const std::string& to = design.runs[run].to;
    for (std::size_t k = 0; k < design.runs.size(); ++k)
      if (k != run && !to.empty() && design.runs[k].from == to) return stands(k) ? -1 : static_cast<int>(k);
    return -1;
  }
  std::vector<std::size_t> arriving(std::size_t run) const {
    std::vector<std::size_t> feeders;
    for (std::size_t k = 0; k < design.runs.size(); ++k)
      if (k != run && !design.runs[run].from.empty() && design.runs[k].to == design.runs[run].from)
        feeders.push_back(k);
    return feeders;
  }
  // The run and all after it. Loops were refused when the design was resolved.
  std::vector<std::size_t> onward(std::size_t run) const {
    std::vector<std::size_t> runs{run};
    for (int k = next(run); k >= 0 && runs.size() <= design.runs.size(); k = next(k)) runs.push_back(k);
    return runs;
  }
  bool carrier_follows(std::size_t run) const {
    const std::vector<std::size_t> runs = onward(run);
    return std::any_of(runs.begin(), runs.end(), [&](std::size_t k) { return !varied[k]; });
  }
  const site::Outlet* outlet_of(std::size_t run) const {
    for (const site::Outlet& outlet : design.outlets)
      if (outlet.name == design.runs[onward(run).back()].to) return &outlet;
    return nullptr;
  }
};

double foot_of(const Levels& levels, std::size_t run) {
  return levels.inverts[run].back();
}

// How far a run begins below the lowest pipe that arrives at its head [m].
double drop_at_head(const Chain& chain, const Levels& levels, std::size_t run) {
  double lowest = 1e300;
  for (const std::size_t feeder : chain.arriving(run)) lowest = std::min(lowest, foot_of(levels, feeder));
  return lowest < 1e300 ? std::max(0.0, lowest - levels.inverts[run].front()) : 0;
}

std::vector<double> falls_of(const site::Run& run, const std::vector<double>& inverts) {
  std::vector<double> falls;
  for (std::size_t k = 1; k < run.path.size(); ++k) {
    const double piece = distance(run.path[k - 1], run.path[k]);
    falls.push_back(piece > 0 ? (inverts[k - 1] - inverts[k]) / piece : 0);
  }
  return falls;
}

class Layer {
public:
  Layer(const site::Design& design, const Levels& base, const site::Design& changed,
        const std::vector<bool>& varied, const Levelling& wanted,
        const std::function<double(Point)>& ground_at)
      : design_(design), base_(base), changed_(changed), chain_{changed, varied}, wanted_(wanted),
        ground_at_(ground_at) {}

  // lower: how far each outlet may lie below its place in the design [m], one a run that ends at one.
  Levels lay(const std::vector<double>& lower) const {
    Levels levels;
    levels.inverts.resize(changed_.runs.size());
    std::vector<bool> done(changed_.runs.size(), false);
    for (std::size_t round = 0; round < done.size(); ++round)
      for (std::size_t r = 0; r < done.size(); ++r) {
        const std::vector<std::size_t> feeders = chain_.arriving(r);
        const bool ready =
            std::all_of(feeders.begin(), feeders.end(), [&](std::size_t k) { return done[k]; });
        if (done[r] || !ready) continue;
        lay_run(r, feeders, lower, levels);
        done[r] = true;
      }
    return levels;
  }
  bool adjusts(std::size_t run) const {
    return !chain_.varied[run] || (!std::isfinite(wanted_.fall) && !chain_.carrier_follows(run));
  }
  // Falls that a run has when nothing is adjusted.
  std::vector<double> own_falls(std::size_t run) const {
    std::vector<double> falls = falls_of(design_.runs[run], base_.inverts[run]);
    if (chain_.varied[run] && std::isfinite(wanted_.fall)) falls.assign(falls.size(), wanted_.fall);
    return falls;
  }

private:
  double head_of(std::size_t run, const std::vector<std::size_t>& feeders, const Levels& levels) const {
    const double before = base_.inverts[run].front();
    if (!feeders.empty()) {
      double lowest = 1e300;
      for (const std::size_t feeder : feeders) lowest = std::min(lowest, foot_of(levels, feeder));
      return lowest - drop_at_head(chain_, base_, run);
    }
    if (!chain_.varied[run]) return before;
    const site::Run& piece = changed_.runs[run];
    const double depth = std::isfinite(wanted_.depth)
                             ? wanted_.depth
                             : ground_at_(design_.runs[run].path.front()) - before + piece.bedding;
    return ground_at_(piece.path.front()) - depth + piece.bedding;
  }

  void lay_run(std::size_t run, const std::vector<std::size_t>& feeders, const std::vector<double>& lower,
               Levels& levels) const {
    if (chain_.stands(run)) { // it lies where it lies
      levels.inverts[run] = base_.inverts[run];
      return;
    }
    const Polyline& path = changed_.runs[run].path;
    const double head = head_of(run, feeders, levels);
    double extra = 0; // fall to add
    if (adjusts(run)) {
      // The level at which the outlet would lie if all went on with the falls it has, and the length over
      // which what is too much or too little can be made good.
      double level = head, room = 0;
      const std::vector<std::size_t> runs = chain_.onward(run);
      for (const std::size_t k : runs) {
        const Polyline& line = changed_.runs[k].path;
        const std::vector<double> falls = own_falls(k);
        for (std::size_t p = 1; p < line.size(); ++p) level -= falls[p - 1] * distance(line[p - 1], line[p]);
        if (k != run) level -= drop_at_head(chain_, base_, k);
        if (adjusts(k)) room += length(line);
      }
      const double goal = foot_of(base_, runs.back()) - lower[runs.back()];
      if (room > 0) extra = (level - goal) / room;
    }
    const std::vector<double> falls = own_falls(run);
    levels.inverts[run] = {head};
    for (std::size_t p = 1; p < path.size(); ++p)
      levels.inverts[run].push_back(levels.inverts[run].back() -
                                    (falls[p - 1] + extra) * distance(path[p - 1], path[p]));
  }

  const site::Design& design_;
  const Levels& base_;
  const site::Design& changed_;
  Chain chain_;
  const Levelling& wanted_;
  const std::function<double(Point)>& ground_at_;
};

// The first piece that falls too little, in a sentence; empty: none.
std::string too_flat(const site::Site& site, const site::Design& design, const Levels& base,
                     const site::Design& changed, const Levels& levels, double least) {
  for (std::size_t r = 0; r < changed.runs.size(); ++r) {
    const std::vector<double> falls = falls_of(changed.runs[r], levels.inverts[r]);
    const std::vector<double> before = falls_of(design.runs[r], base.inverts[r]);
    for (std::size_t k = 0; k < falls.size(); ++k) {
      const double limit = std::min(least, before[k]);
      if (falls[k] >= limit - nothing) continue;
      return "no fall left: '" + changed.runs[r].name + "' would have to be laid at " +
             (falls[k] < 0 ? "a rise of " + site::written(-falls[k], Dimension::slope, site)
                           : site::written(falls[k], Dimension::slope, site)) +
             " to reach the outlet; at least " + site::written(limit, Dimension::slope, site) + " is needed";
    }
  }
  return "";
}

} // namespace

std::string relevel(const site::Site& site, const site::Design& design, const std::vector<bool>& varied,
                    const Levelling& wanted, const std::function<double(Point)>& ground_at,
                    site::Design& changed) {
  Levels base;
  const yard::ResolvedDrain resolved = yard::resolve_drain(site, design, ground_at);
  for (const drain::Run& run : resolved.layout.runs) base.inverts.push_back(run.inverts);
  const Chain chain{changed, varied};
  const Layer layer(design, base, changed, varied, wanted, ground_at);
  // How far each outlet may be lowered: to the ground where it opens.
  std::vector<double> lowest(changed.runs.size(), 0);
  for (std::size_t r = 0; r < changed.runs.size(); ++r) {
    const site::Outlet* outlet = chain.outlet_of(r);
    if (chain.next(r) < 0 && outlet && outlet->kind == "daylight" && !std::isfinite(outlet->invert))
      lowest[r] = std::max(0.0, foot_of(base, r) - ground_at(outlet->at));
  }
  Levels levels = layer.lay(std::vector<double>(changed.runs.size(), 0));
  std::string why = too_flat(site, design, base, changed, levels, wanted.least_fall);
  if (!why.empty() && std::any_of(lowest.begin(), lowest.end(), [](double way) { return way > nothing; })) {
    levels = layer.lay(lowest);
    why = too_flat(site, design, base, changed, levels, wanted.least_fall);
  }
  for (std::size_t r = 0; r < changed.runs.size(); ++r) {
    changed.runs[r].inverts = levels.inverts[r];
    const double below = foot_of(base, r) - lowest[r] - foot_of(levels, r);
    if (why.empty() && chain.next(r) < 0 && below > 1e-6)
      why = "no fall left: with " + site::written(wanted.fall, Dimension::slope, site) + " '" +
            changed.runs[r].name + "' would end " + site::written(below, Dimension::length, site) +
            " below its outlet";
  }
  return why;
}

} // namespace lowspot::study
