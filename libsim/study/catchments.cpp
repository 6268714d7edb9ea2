#include <lowspot/study/catchments.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/study/cascade.hpp>
#include <lowspot/yard/roofs.hpp>

namespace lowspot::study {
namespace {

constexpr double most_rain = 2; // m of rain: what this does not fill, no storm does

const site::Area& cover_of(const site::Site& site, std::size_t cover) {
  return cover < site.areas.size() ? site.areas[cover] : site.lawn;
}

Cascade make_cascade(const terrain::LowSpotMap& map) {
  std::vector<CascadeBasin> basins;
  for (const terrain::NestedBasin& basin : map.basins)
    basins.push_back({basin.volume, basin.parent, {basin.parts[0], basin.parts[1]}, basin.spills_to});
  return Cascade(std::move(basins));
}

enum class Losses { none, as_it_starts, wet };

// What has reached each single basin from its own ground and roofs after some rain.
class OwnWater {
public:
  OwnWater(const site::Site& site, const Catchments& catchments, double intensity, Losses losses)
      : site_(site), catchments_(catchments), intensity_(intensity), losses_(losses),
        own_(catchments.dry.size(), 0) {}

  const std::vector<double>& operator()(double rain) {
    const std::size_t covers = site_.areas.size() + 1;
    std::vector<double> dry(covers), under(covers);
    for (std::size_t a = 0; a < covers; ++a) {
      dry[a] = depth(cover_of(site_, a), rain, false);
      under[a] = depth(cover_of(site_, a), rain, true);
    }
    for (std::size_t b = 0; b < own_.size(); ++b) {
      own_[b] = 0;
      if (catchments_.dry[b].empty()) continue;
      for (std::size_t a = 0; a < covers; ++a)
        own_[b] += catchments_.dry[b][a] * dry[a] + catchments_.under[b][a] * under[a];
    }
    for (const Catchments::Roof& roof : catchments_.roofs) own_[roof.basin] += roof.roof_area * rain;
    return own_;
  }

private:
  double depth(const site::Area& cover, double rain, bool under_pool) const {
    if (losses_ == Losses::none) return rain;
    const site::Soil& soil = site_.soils[static_cast<std::size_t>(cover.soil)];
    return runoff_depth(cover, soil, losses_ == Losses::wet ? Wetness::wet : Wetness::as_it_starts,
                        intensity_, rain, under_pool);
  }

  const site::Site& site_;
  const Catchments& catchments_;
  double intensity_;
  Losses losses_;
  std::vector<double> own_;
};

} // namespace

Catchments find_catchments(const site::Site& site, const terrain::Ground& ground,
                           const terrain::LowSpotMap& map) {
  Catchments catchments;
  const std::size_t covers = site.areas.size() + 1;
  catchments.dry.resize(map.basins.size());
  catchments.under.resize(map.basins.size());
  for (std::size_t b = 0; b < map.basins.size(); ++b) {
    if (map.basins[b].parts[0] >= 0) continue;
    catchments.dry[b].assign(covers, 0);
    catchments.under[b].assign(covers, 0);
  }
  Mask full(ground.grid.cells(), 0);
  for (const terrain::LowSpot& spot : map.spots)
    for (const int cell : spot.cells) full[cell] = 1;
  // What no area and no building covers of a cell is lawn; the roofs' part is counted as roof.
  Field left(ground.grid.cells(), 1.0);
  for (std::size_t k = 0; k < ground.beyond.cells.size(); ++k)
    left[ground.beyond.cells[k]] -= ground.beyond.fractions[k];
  for (const terrain::Coverage& building : ground.buildings)
    for (std::size_t k = 0; k < building.cells.size(); ++k) left[building.cells[k]] -= building.fractions[k];
  // As in a run, rain on what a roof leaves open of its cells falls on the ground beside it.
  Field with_beside(left.size(), 1.0);
  for (std::size_t c = 0; c < ground.open_sky.size(); ++c)
    if (ground.active[c] && left[c] > 0) with_beside[c] = ground.open_sky[c] / left[c];
  const double cell_area = ground.grid.cell_area();
  const auto add = [&](int cell, std::size_t cover, double share) {
    const int basin = map.basin_of_cell[cell];
    if (basin < 0 || !ground.active[cell]) return;
    (full[cell] ? catchments.under : catchments.dry)[basin][cover] += share * with_beside[cell] * cell_area;
  };
  for (std::size_t a = 0; a < ground.areas.size() && a < site.areas.size(); ++a)
    for (std::size_t k = 0; k < ground.areas[a].cells.size(); ++k) {
      left[ground.areas[a].cells[k]] -= ground.areas[a].fractions[k];
      add(ground.areas[a].cells[k], a, ground.areas[a].fractions[k]);
    }
  for (std::size_t c = 0; c < left.size(); ++c)
    if (left[c] > 1e-12) add(static_cast<int>(c), covers - 1, left[c]);
  for (const yard::RoofDischarge& roof : yard::route_roofs(site, ground, nullptr, nullptr)) {
    const double part = roof.roof_area / static_cast<double>(std::max<std::size_t>(1, roof.cells.size()));
    for (const int cell : roof.cells) {
      const int basin = map.basin_of_cell[cell];
      if (basin < 0) continue;
      auto& list = catchments.roofs;
      const auto same = std::find_if(list.begin(), list.end(), [&](const Catchments::Roof& each) {
        return each.basin == basin && each.name == roof.name;
      });
      if (same != list.end())
        same->roof_area += part;
      else
        list.push_back({roof.name, basin, part});
    }
  }
  return catchments;
}

std::vector<RainToFill> rain_to_fill(const site::Site& site, const terrain::Ground& ground,
                                     const terrain::LowSpotMap& map, const Catchments& catchments,
                                     double intensity, int most_spots) {
  std::vector<RainToFill> result(map.basins.size());
  if (!(intensity > 0) || ground.grid.cells() == 0) return result;
  const Cascade cascade = make_cascade(map);
  for (const Losses losses : {Losses::none, Losses::as_it_starts, Losses::wet}) {
    OwnWater own(site, catchments, intensity, losses);
    for (std::size_t b = 0; b < map.basins.size(); ++b) {
      if (map.basins[b].spot > most_spots) continue;
      const double rain = cascade.rain_that_fills(static_cast<int>(b), std::ref(own), most_rain);
      (losses == Losses::none           ? result[b].all_runs_off
       : losses == Losses::as_it_starts ? result[b].as_it_starts
                                        : result[b].wet) = rain;
    }
  }
  return result;
}

} // namespace lowspot::study
