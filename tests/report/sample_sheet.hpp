// A sheet's scene made from the sample, with a ground that falls gently to the south.
#pragma once
#include <lowspot/job/takeoff.hpp>
#include <lowspot/report/crew_sheet.hpp>

#include "report/picture.hpp"

namespace sample {

inline lowspot::terrain::Ground sloping_ground(const lowspot::site::Site& site, const Comparison& all) {
  lowspot::terrain::Ground ground;
  ground.grid = all.grid;
  ground.active = all.active;
  ground.elevation = all.elevation;
  for (std::size_t cell = 0; cell < ground.elevation.size(); ++cell)
    ground.elevation[cell] = 30.5 + 0.03 * all.grid.y(all.grid.row(cell));
  ground.areas.resize(site.areas.size());
  for (std::size_t cell = 0; cell < all.cover.size(); ++cell)
    if (all.cover[cell] >= 0) {
      ground.areas[static_cast<std::size_t>(all.cover[cell])].cells.push_back(static_cast<int>(cell));
      ground.areas[static_cast<std::size_t>(all.cover[cell])].fractions.push_back(1);
    }
  return ground;
}

struct SheetMaker : PageMaker {
  lowspot::terrain::Ground ground = sloping_ground(site, comparison);
  lowspot::job::CutSheet cut;
  lowspot::job::Takeoff takeoff;
  SheetMaker() { // what the sample leaves open, so that the design can be built
    site.soils.resize(1);
    site.soils[0].name = "yard";
    site.soils[0].texture = "silt loam";
    site.soils[0].tight_conductivity = {1e-8, 1e-8, 1e-8};
    for (auto& run : site.designs[0].runs) {
      run.stone.porosity = 0.4;
      run.stone.conductivity = 0.3;
      run.stone.bulk_density = 1600;
      run.cap.depth = 0.1;
      run.cap.conductivity = 1e-6;
      if (!run.has_trench) run.trench_depth = lowspot::site::not_given;
    }
  }
  lowspot::report::SheetScene scene() {
    using namespace lowspot;
    cut = report::crew_cut_sheet(site, site.designs[0], ground);
    takeoff = job::take_off(site, site.designs[0], ground);
    return {page().scene, ground,  comparison.designs[0], &comparison.designs[1], &site.designs[0],
            &cut,         &takeoff};
  }
  // The design's outlet is a dry well, of which the check of its emptying found this.
  void end_in_a_pit(const std::string& found) {
    auto& outlet = site.designs[0].outlets[0];
    outlet.kind = "dry well";
    outlet.well.plan = 1, outlet.well.perimeter = 4, outlet.well.depth = 3;
    lowspot::results::CheckRecord check;
    check.id = "drain_down", check.about = outlet.name, check.found = found;
    comparison.designs[1].checks.push_back(check);
  }
  lowspot::report::SheetScene nothing_proposed() { return {page().scene, ground, comparison.designs[0]}; }
};

} // namespace sample
