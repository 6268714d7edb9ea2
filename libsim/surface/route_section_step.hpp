// One step of a section: what its cells hold and pass on with one level, and what goes across between them.
#pragma once
#include <span>
#include <vector>

#include <lowspot/surface/route_pool_step.hpp>
#include <lowspot/surface/route_slopes.hpp>

namespace lowspot::surface {

// A cell as it takes part in the balance of its section.
struct SectionCell {
  double bed = 0;        // m above the datum
  double conveyance = 0; // of the step: it passes conveyance h^(5/3) (own h + drop)^(1/2) on [m]
  double own = 0;        // as in RouteSlopes
  double drop = 0;       // as in RouteSlopes [m]
  double lack = 0;       // m that it takes to fill its depressions
  double depth = 0;      // found: m
  double leaves = 0;     // found: m
  double carries = 0;    // found: with what others pass on by it [m]
};

// Finds the level at which cells hold and pass on as much as there is, from a guess, and what each holds and
// passes on [m above the datum]. mobile: m summed over the cells.
double balance_section(std::span<SectionCell> cells, double mobile, double guess);

// What a step of all sections works on.
struct SectionStep {
  double dt;                              // s
  const RouteGraph& graph;                // the ground
  RoutedPools& pools;                     // in its depressions
  RoutedWater& water;                     // on it
  RouteSlopes& slopes;                    // and the sections
  RoutedFaces& faces;                     // what crosses them
  std::vector<SectionCell> cells = {};    // of the section at hand
  Field across = {};                      // by number: what a cell has too much for its level [m]
  std::vector<int> place = {};            // by number: in cells, -1: not among them
  std::vector<int> degree = {}, way = {}; // see RouteSections, of what is left
  double greatest = 0;                    // outflow of a cell [m/s]
  double passed = 0;                      // outflow of all cells of sections [m/s]
};

// Before the first section has its turn; again: late water goes on within the same step.
void begin_sections(SectionStep& step, bool again);

// Balances a section with what arrived during the step, and hands on what leaves it; where it has had its
// turn before, the balance of the whole step is taken anew with what came since.
void step_section(SectionStep& step, RouteSection& section);

// Books what crosses the faces within sections, once each cell knows what it has too much.
void pass_across(SectionStep& step);

} // namespace lowspot::surface
