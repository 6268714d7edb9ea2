// Sources of the sample comparison: what its two places and one side would be made of.
#pragma once
#include "results/sample_comparison.hpp"

namespace sample {

inline void add_shares(Comparison& all) {
  DesignRecord& as_is = all.designs.front();
  SourceShares& shares = as_is.shares;
  shares.sources = {{"house, <west> downspout", "roof"},
                    {"water rising out of the soil", "from below"},
                    {"rain on patio", "rain"},
                    {"rain on long bed", "rain"}};
  const auto place = [&](const std::string& name, const std::string& kind, std::vector<double> volumes) {
    PlaceShares one;
    one.name = name;
    one.kind = kind;
    for (const double volume : volumes) one.peak_volume += volume;
    one.at_peak = one.at_rain_end = one.arrived = one.left = std::move(volumes);
    one.over_time.resize(4);
    shares.places.push_back(std::move(one));
  };
  place("patio", "area", {0.02, 0, 0.06, 0});
  place("long bed", "area", {0.1, 0.025, 0.31, 0.065});
  place("low spot 1", "low spot", {0.1, 0, 0.31, 0.09});
  place("south", "edge", {1, 0, 4, 1});
  shares.when_deepest.assign(4, std::vector<float>(all.grid.cells(), 0.0F));
  for (std::size_t cell = 0; cell < all.grid.cells(); ++cell) {
    const bool west = all.grid.column(cell) < 20;
    shares.when_deepest[0][cell] = west ? 0.7F : 0.1F;
    shares.when_deepest[2][cell] = west ? 0.3F : 0.9F;
  }
}

} // namespace sample
