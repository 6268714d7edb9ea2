// The sources of the water on the ground, by name, and which of them feeds each cell.
#pragma once
#include <limits>
#include <string>
#include <vector>

#include <lowspot/site/site.hpp>
#include <lowspot/surface/tags.hpp>
#include <lowspot/terrain/ground.hpp>
#include <lowspot/yard/roofs.hpp>

namespace lowspot::yard {

// What kind of source water on the ground came from.
enum class SourceKind {
  rain,   // on one area
  roof,   // of one downspout, or over the eaves
  inflow, // along an edge
  leak,   // a constant flow that is supposed
  below,  // out of soil that is full; it fell or came somewhere before
  drain   // out of a drain: at an outlet on the ground, or up through its trench
};
// As in summary.json.
std::string source_kind_name(SourceKind kind);

// One source.
struct Source {
  std::string name;                   // "rain on patio", "house, west downspout"
  SourceKind kind = SourceKind::rain; // what kind
};

// A flow that does not depend on rain: a leaking pipe, a spring.
struct Leak {
  std::string name;                                       // as in the list of sources
  std::vector<int> cells;                                 // shared evenly
  double flow = 0;                                        // m3/s
  double until = std::numeric_limits<double>::infinity(); // s: it stops then
};

// As many sources as are told apart; the smallest areas share one beyond that.
constexpr int most_sources = 12;

// The sources of one yard and what each brings in a step.
class Sources {
public:
  // has_drain: whether a drain can return water to the ground.
  Sources(const site::Site& site, const terrain::Ground& ground, const std::vector<RoofDischarge>& roofs,
          const std::vector<std::string>& inflows, const std::vector<Leak>& leaks, bool has_drain);

  const std::vector<Source>& list() const { return list_; }
  int roof(std::size_t index) const { return roof_[index]; }
  int inflow(std::size_t index) const { return inflow_[index]; }
  int leak(std::size_t index) const { return leak_[index]; }

  // What arrives in one step: begin it, then tell each rate [m/s].
  void begin() { arriving_.clear(); }
  void rain(int cell, double rate);
  void below(int cell, double rate) { add(cell, below_, rate); }
  void drain(int cell, double rate) { add(cell, drain_, rate); }
  void add(int cell, int tag, double rate) {
    if (rate > 0) arriving_.push_back({cell, tag, rate});
  }
  const std::vector<surface::TagSupply>& arriving() const { return arriving_; }

private:
  struct Part { // of the rain on a cell
    int tag;
    double share;
  };
  void share_rain(const site::Site& site, const terrain::Ground& ground, int own_names);
  int name(std::string text, SourceKind kind);

  std::vector<Source> list_;
  std::vector<int> roof_, inflow_, leak_;
  int below_ = -1, drain_ = -1;
  std::vector<Part> parts_;
  std::vector<std::size_t> begins_; // of each cell's parts
  std::vector<surface::TagSupply> arriving_;
};

} // namespace lowspot::yard
