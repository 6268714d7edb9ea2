#include <lowspot/yard/sources.hpp>

#include <algorithm>
#include <numeric>

namespace lowspot::yard {
namespace {

constexpr double no_share = 1e-12;

// What of each cell lies in the yard under no area and no building: the lawn between them.
Field bare_shares(const terrain::Ground& ground) {
  Field bare(ground.grid.cells(), 1.0);
  for (std::size_t k = 0; k < ground.beyond.cells.size(); ++k)
    bare[ground.beyond.cells[k]] -= ground.beyond.fractions[k];
  for (const std::vector<terrain::Coverage>* list : {&ground.areas, &ground.buildings})
    for (const terrain::Coverage& cover : *list)
      for (std::size_t k = 0; k < cover.cells.size(); ++k) bare[cover.cells[k]] -= cover.fractions[k];
  return bare;
}

} // namespace

std::string source_kind_name(SourceKind kind) {
  switch (kind) {
  case SourceKind::rain:
    return "rain";
  case SourceKind::roof:
    return "roof";
  case SourceKind::inflow:
    return "inflow";
  case SourceKind::leak:
    return "leak";
  case SourceKind::below:
    return "from below";
  case SourceKind::drain:
    return "drain";
  }
  return "";
}

int Sources::name(std::string text, SourceKind kind) {
  list_.push_back({std::move(text), kind});
  return static_cast<int>(list_.size()) - 1;
}

Sources::Sources(const site::Site& site, const terrain::Ground& ground,
                 const std::vector<RoofDischarge>& roofs, const std::vector<std::string>& inflows,
                 const std::vector<Leak>& leaks, bool has_drain) {
  for (const RoofDischarge& roof : roofs)
    roof_.push_back(roof.tap >= 0 ? -1 : name(roof.name, SourceKind::roof));
  for (const std::string& inflow : inflows) inflow_.push_back(name(inflow, SourceKind::inflow));
  for (const Leak& leak : leaks) leak_.push_back(name(leak.name, SourceKind::leak));
  below_ = name("water rising out of the soil", SourceKind::below);
  if (has_drain) drain_ = name("water out of the drain", SourceKind::drain);
  share_rain(site, ground, std::max(1, most_sources - static_cast<int>(list_.size()) - 1));
}

void Sources::share_rain(const site::Site& site, const terrain::Ground& ground, int own_names) {
  const Field bare = bare_shares(ground);
  // The lawn between the areas counts as one more area.
  std::vector<double> sizes;
  for (const terrain::Coverage& cover : ground.areas) {
    double size = 0;
    for (std::size_t k = 0; k < cover.cells.size(); ++k)
      if (ground.active[cover.cells[k]]) size += cover.fractions[k];
    sizes.push_back(size);
  }
  sizes.push_back(0);
  for (std::size_t c = 0; c < bare.size(); ++c)
    if (ground.active[c] && bare[c] > no_share) sizes.back() += bare[c];

  std::vector<std::size_t> order(sizes.size());
  std::iota(order.begin(), order.end(), 0);
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return sizes[a] > sizes[b]; });
  while (!order.empty() && !(sizes[order.back()] > no_share)) order.pop_back();
  std::vector<int> tag(sizes.size(), -1);
  // One name more than fits alone would stand for a single area: it keeps its own.
  const bool all_named = static_cast<int>(order.size()) <= own_names + 1;
  int rest = -1;
  for (std::size_t k = 0; k < order.size(); ++k) {
    const std::size_t a = order[k];
    if (all_named || static_cast<int>(k) < own_names) {
      tag[a] = name(a < site.areas.size() ? "rain on " + site.areas[a].name : "rain on the open ground",
                    SourceKind::rain);
    } else {
      if (rest < 0) rest = name("rain on smaller areas", SourceKind::rain);
      tag[a] = rest;
    }
  }
  if (order.empty()) { // a yard that is all roof, or areas without a cell: whatever falls has one name
    rest = name("rain on the open ground", SourceKind::rain);
    tag.back() = rest;
  }

  std::vector<std::vector<Part>> by_cell(ground.grid.cells());
  for (std::size_t a = 0; a < ground.areas.size(); ++a)
    for (std::size_t k = 0; k < ground.areas[a].cells.size(); ++k)
      if (tag[a] >= 0 && ground.areas[a].fractions[k] > no_share)
        by_cell[ground.areas[a].cells[k]].push_back({tag[a], ground.areas[a].fractions[k]});
  begins_.assign(1, 0);
  for (std::size_t c = 0; c < by_cell.size(); ++c) {
    std::vector<Part>& parts = by_cell[c];
    if (tag.back() >= 0 && (bare[c] > no_share || parts.empty()))
      parts.push_back({tag.back(), std::max(bare[c], no_share)});
    if (parts.empty()) parts.push_back({static_cast<int>(list_.size()) - 1, 1.0});
    double sum = 0;
    for (const Part& part : parts) sum += part.share;
    for (const Part& part : parts) parts_.push_back({part.tag, part.share / sum});
    begins_.push_back(parts_.size());
  }
}

void Sources::rain(int cell, double rate) {
  for (std::size_t k = begins_[cell]; k < begins_[cell + 1]; ++k)
    add(cell, parts_[k].tag, rate * parts_[k].share);
}

} // namespace lowspot::yard
