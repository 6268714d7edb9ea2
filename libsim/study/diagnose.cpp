#include <lowspot/study/diagnose.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

#include <lowspot/rain/hyetograph.hpp>
#include <lowspot/study/catchments.hpp>
#include <lowspot/study/describe.hpp>
#include <lowspot/study/outlets.hpp>
#include <lowspot/study/reach_ground.hpp>

namespace lowspot::study {
namespace {

// The storm's depth over the time in which it rains.
double mean_intensity(const rain::Hyetograph& rain) {
  double wet = 0;
  for (std::size_t k = 0; k < rain.intensity.size(); ++k)
    if (rain.intensity[k] > 0) wet += rain.time[k + 1] - rain.time[k];
  return wet > 0 ? rain.depth() / wet : 0;
}

std::string cover_name(const site::Site& site, const terrain::Ground& ground, const Point& at) {
  const long cell = cell_at(ground.grid, at.x, at.y);
  const int cover = cell < 0 ? -1 : ground.cover[cell];
  return cover < 0 ? "lawn" : site.areas[cover].name;
}

Point middle_of(const Grid& grid, const std::vector<int>& cells) {
  Point sum;
  for (const int cell : cells) {
    sum.x += grid.x(grid.column(cell)) / static_cast<double>(cells.size());
    sum.y += grid.y(grid.row(cell)) / static_cast<double>(cells.size());
  }
  return sum;
}

// "east", "north-west", ... of a point as seen from another.
std::string compass_word(const Point& from, const Point& to) {
  if (distance(from, to) < 1e-9) return "";
  static const char* const words[] = {"east", "north-east", "north", "north-west",
                                      "west", "south-west", "south", "south-east"};
  const double eighths = std::atan2(to.y - from.y, to.x - from.x) / (std::numbers::pi / 4);
  return words[(std::lround(eighths) + 8) % 8];
}

bool leaves_yard(const std::vector<terrain::LowSpot>& spots, std::size_t s) {
  for (std::size_t steps = 0; steps <= spots.size(); ++steps) {
    if (spots[s].closed) return false;
    if (spots[s].spills_into == 0) return true;
    s = static_cast<std::size_t>(spots[s].spills_into) - 1;
  }
  return false; // they spill into each other
}

// What no area covers is lawn, too: told together with an area of that name.
void add_share(const CoverShare& share, std::vector<CoverShare>& covers) {
  const auto same = std::find_if(covers.begin(), covers.end(), [&](const CoverShare& each) {
    return each.cover == share.cover && each.impervious == share.impervious;
  });
  if (same != covers.end())
    same->area += share.area;
  else
    covers.push_back(share);
}

void add_shares(const site::Site& site, const terrain::LowSpotMap& map, const Catchments& catchments,
                std::vector<LowSpotDiagnosis>& list) {
  const std::size_t covers = site.areas.size() + 1;
  std::vector<std::vector<double>> sums(list.size(), std::vector<double>(covers, 0.0));
  for (std::size_t b = 0; b < map.basins.size(); ++b) {
    if (catchments.dry[b].empty()) continue;
    for (std::size_t a = 0; a < covers; ++a)
      sums[static_cast<std::size_t>(map.basins[b].spot) - 1][a] +=
          catchments.dry[b][a] + catchments.under[b][a];
  }
  for (std::size_t s = 0; s < list.size(); ++s) {
    for (std::size_t a = 0; a < covers; ++a)
      if (sums[s][a] > 1e-9)
        add_share({a + 1 < covers ? site.areas[a].name : "lawn", sums[s][a],
                   a + 1 < covers ? site.areas[a].impervious : site.lawn.impervious},
                  list[s].covers);
    std::stable_sort(list[s].covers.begin(), list[s].covers.end(),
                     [](const CoverShare& a, const CoverShare& b) { return a.area > b.area; });
  }
  for (const Catchments::Roof& roof : catchments.roofs) {
    auto& roofs = list[static_cast<std::size_t>(map.basins[roof.basin].spot) - 1].roofs;
    const auto same =
        std::find_if(roofs.begin(), roofs.end(), [&](const RoofShare& r) { return r.name == roof.name; });
    if (same != roofs.end())
      same->roof_area += roof.roof_area;
    else
      roofs.push_back({roof.name, roof.roof_area});
  }
  for (LowSpotDiagnosis& each : list)
    std::stable_sort(each.roofs.begin(), each.roofs.end(),
                     [](const RoofShare& a, const RoofShare& b) { return a.roof_area > b.roof_area; });
}

// The basins of a low spot in the order in which they fill in steady rain, itself last.
void add_basins(const terrain::LowSpotMap& map, const std::vector<RainToFill>& fill,
                std::vector<LowSpotDiagnosis>& list) {
  std::vector<std::vector<int>> of_spot(list.size());
  for (std::size_t b = 0; b < map.basins.size(); ++b)
    of_spot[static_cast<std::size_t>(map.basins[b].spot) - 1].push_back(static_cast<int>(b));
  for (std::size_t s = 0; s < list.size(); ++s) {
    std::vector<int>& order = of_spot[s];
    const int whole =
        *std::find_if(order.begin(), order.end(), [&](int b) { return map.basins[b].parent < 0; });
    list[s].rain_to_fill = fill[whole];
    if (order.size() < 2) continue;
    std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
      if ((a == whole) != (b == whole)) return b == whole;
      if (fill[a].all_runs_off != fill[b].all_runs_off) return fill[a].all_runs_off < fill[b].all_runs_off;
      return map.basins[a].volume < map.basins[b].volume;
    });
    const auto id = [&](int basin) {
      const auto place = std::find(order.begin(), order.end(), basin);
      return place == order.end() ? 0 : static_cast<int>(place - order.begin()) + 1;
    };
    for (const int b : order) {
      const terrain::NestedBasin& from = map.basins[b];
      list[s].basins.push_back({id(b), from.at, from.bottom, from.spill_level, from.area, from.volume,
                                from.spill_at, from.parent < 0 ? 0 : id(from.parent), id(from.spills_to),
                                fill[b]});
    }
  }
}

void add_outlets(const site::Site& site, const terrain::Ground& ground, int most, Diagnosis& diagnosis) {
  const ReachGround reach_ground = make_reach_ground(site, ground);
  const std::vector<OutletPlace> places = outlet_places(site, ground, reach_ground);
  const double buried = site.reach.cover + site.reach.pipe;
  for (LowSpotDiagnosis& each : diagnosis.low_spots) {
    if (each.spot.id > most) continue;
    each.outlets_searched = true;
    each.outlets = find_outlets(site, reach_ground, places, each.spot.at, each.spot.bottom - buried);
  }
  for (const site::Design& design : site.designs) {
    if (design.runs.empty() || design.runs.front().path.empty()) continue;
    const site::Run& run = design.runs.front();
    HeadDiagnosis head;
    head.design = design.name;
    head.run = run.name;
    head.at = run.path.front();
    const long cell = cell_at(ground.grid, head.at.x, head.at.y);
    if (cell < 0 || !ground.active[cell]) continue;
    if (!run.inverts.empty())
      head.invert = run.inverts.front();
    else if (std::isfinite(run.trench_depth))
      head.invert = ground.elevation[cell] - run.trench_depth + run.bedding;
    else
      head.invert = ground.elevation[cell] - buried;
    const auto same = std::find_if(diagnosis.heads.begin(), diagnosis.heads.end(), [&](const auto& other) {
      return distance(other.at, head.at) < 1e-6 && std::abs(other.invert - head.invert) < 1e-6;
    });
    if (same != diagnosis.heads.end()) { // designs that differ further on
      same->design += ", " + design.name;
      continue;
    }
    head.outlets = find_outlets(site, reach_ground, places, head.at, head.invert);
    diagnosis.heads.push_back(std::move(head));
  }
}

} // namespace

Diagnosis diagnose(const site::Site& site, const terrain::Ground& ground, const DiagnoseOptions& options) {
  const rain::Hyetograph rain = rain::make_hyetograph(site);
  Diagnosis diagnosis;
  diagnosis.yard = describe(site, ground, rain, options.version);
  diagnosis.rain_intensity = mean_intensity(rain);
  terrain::LowSpotMap map = terrain::map_low_spots(ground, options.least_depth);
  for (const terrain::LowSpot& hollow : terrain::find_low_spots(ground, 0)) {
    if (!hollow.closed) diagnosis.pools_volume += hollow.volume; // a closed one has no brim
    ++diagnosis.pools;
  }
  diagnosis.catchment.resize(ground.grid.cells());
  for (std::size_t c = 0; c < diagnosis.catchment.size(); ++c) diagnosis.catchment[c] = map.spot_of_cell(c);
  diagnosis.low_spots.resize(map.spots.size());
  for (std::size_t s = 0; s < map.spots.size(); ++s) {
    LowSpotDiagnosis& each = diagnosis.low_spots[s];
    each.spot = map.spots[s];
    each.place = cover_name(site, ground, each.spot.at);
    each.spill_cover = cover_name(site, ground, each.spot.spill_at);
    each.spill_side = compass_word(middle_of(ground.grid, each.spot.cells), each.spot.spill_at);
    each.leaves_yard = leaves_yard(map.spots, s);
    if (each.spot.spills_into > 0)
      diagnosis.low_spots[static_cast<std::size_t>(each.spot.spills_into) - 1].fed_by.push_back(each.spot.id);
  }
  const Catchments catchments = find_catchments(site, ground, map);
  add_shares(site, map, catchments, diagnosis.low_spots);
  add_basins(map, rain_to_fill(site, ground, map, catchments, diagnosis.rain_intensity), diagnosis.low_spots);
  add_outlets(site, ground, options.most_searched, diagnosis);
  diagnosis.yard.low_spots = std::move(map.spots);
  return diagnosis;
}

} // namespace lowspot::study
