#include <lowspot/study/draws.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>

#include <lowspot/base/geometry.hpp>
#include <lowspot/site/run_reader.hpp>

namespace lowspot::study {
namespace {
using Figure = UncertainInput::Figure;
constexpr double z90 = 1.2815515655446004; // standard normal value at 0.9
constexpr int candidate_sets = 100;

// The standard generators are the same everywhere, the standard distributions are not.
class Dice {
public:
  explicit Dice(std::uint64_t seed) : engine_(seed) {}
  double unit() { return static_cast<double>(engine_() >> 11) * 0x1.0p-53; } // 0 <= . < 1
  int below(int count) { return static_cast<int>(unit() * count); }

private:
  std::mt19937_64 engine_;
};

std::vector<std::vector<double>> one_set(int draws, int inputs, Dice& dice) {
  std::vector<std::vector<double>> set(draws, std::vector<double>(inputs));
  std::vector<int> order(draws);
  for (int input = 0; input < inputs; ++input) {
    for (int k = 0; k < draws; ++k) order[k] = k;
    for (int k = draws - 1; k > 0; --k) std::swap(order[k], order[dice.below(k + 1)]);
    // Never at the very ends of a layer: the outermost have no finite value there.
    for (int k = 0; k < draws; ++k)
      set[k][input] = (order[k] + std::clamp(dice.unit(), 0.001, 0.999)) / draws;
  }
  return set;
}

// The largest correlation between two columns, as a magnitude.
double entanglement(const std::vector<std::vector<double>>& set) {
  const std::size_t inputs = set.empty() ? 0 : set.front().size();
  double worst = 0;
  for (std::size_t a = 0; a < inputs; ++a)
    for (std::size_t b = a + 1; b < inputs; ++b) {
      double ab = 0, aa = 0, bb = 0;
      for (const std::vector<double>& row : set) {
        const double u = row[a] - 0.5, v = row[b] - 0.5;
        ab += u * v, aa += u * u, bb += v * v;
      }
      worst = std::max(worst, std::abs(ab) / std::sqrt(aa * bb));
    }
  return worst;
}

std::vector<bool> soils_in_use(const site::Site& site) {
  std::vector<bool> used(site.soils.size(), false);
  const auto use = [&](const site::Area& area) {
    if (area.soil >= 0 && area.soil < static_cast<int>(used.size())) used[area.soil] = true;
  };
  use(site.lawn);
  for (const site::Area& area : site.areas) use(area);
  return used;
}

double& figure_of(site::Soil& soil, Figure figure) {
  switch (figure) {
  case Figure::topsoil_conductivity:
    return soil.conductivity.likely;
  case Figure::tight_conductivity:
    return soil.tight_conductivity.likely;
  case Figure::topsoil_depth:
    return soil.depth.likely;
  case Figure::drainable_porosity:
    break;
  }
  return soil.drainable_porosity.likely;
}

// All that can be a band, of every soil in use.
std::vector<UncertainInput> inputs_in_use(const site::Site& site) {
  constexpr double no_limit = std::numeric_limits<double>::infinity();
  const std::vector<bool> used = soils_in_use(site);
  std::vector<UncertainInput> inputs;
  for (std::size_t s = 0; s < site.soils.size(); ++s) {
    if (!used[s]) continue;
    const site::Soil& soil = site.soils[s];
    const std::string of = site.soils.size() > 1 ? " of '" + soil.name + "'" : "";
    const std::string where = "soil." + soil.name + ".";
    const auto add = [&](const std::string& key, const std::string& name, Figure figure,
                         const site::Band& band, double most) {
      inputs.push_back({where + key, name + of, figure, s, band, most});
    };
    add("topsoil.depth", "depth of the topsoil", Figure::topsoil_depth, soil.depth, no_limit);
    add("topsoil.conductivity", "conductivity of the topsoil", Figure::topsoil_conductivity,
        soil.conductivity, no_limit);
    add("topsoil.drainable_porosity", "drainable porosity of the topsoil", Figure::drainable_porosity,
        soil.drainable_porosity, soil.porosity - soil.field_capacity);
    add("tight_layer.conductivity", "conductivity of the tight layer", Figure::tight_conductivity,
        soil.tight_conductivity, no_limit);
  }
  return inputs;
}
} // namespace

double normal_quantile(double p) {
  if (p == 0.5) return 0;
  // Tail below by Abramowitz and Stegun 1964, 26.2.23 (to 4.5e-4), then Halley's method on the true function.
  const double tail = std::min(p, 1 - p);
  const double t = std::sqrt(-2 * std::log(tail));
  double x = -(t - (2.515517 + t * (0.802853 + t * 0.010328)) /
                       (1 + t * (1.432788 + t * (0.189269 + t * 0.001308))));
  for (int k = 0; k < 3; ++k) {
    const double error = 0.5 * std::erfc(-x / std::numbers::sqrt2) - tail;
    const double slope = std::exp(-0.5 * x * x) / std::sqrt(2 * std::numbers::pi);
    const double u = error / slope;
    x -= u / (1 + 0.5 * x * u);
  }
  return p < 0.5 ? x : -x;
}

double quantile(const site::Band& band, double p) {
  const double z = normal_quantile(p) / z90; // -1, 0, 1 at low, likely, high
  if (z == 0) return band.likely;
  const double other = z < 0 ? band.low : band.high;
  if (band.likely > 0 && other > 0) return band.likely * std::pow(other / band.likely, std::abs(z));
  return std::max(0.0, band.likely + (other - band.likely) * std::abs(z));
}

double value_at(const UncertainInput& input, double p) {
  return std::min(quantile(input.band, p), input.most);
}

std::optional<Dimension> dimension_of(const UncertainInput& input) {
  switch (input.figure) {
  case Figure::topsoil_conductivity:
  case Figure::tight_conductivity:
    return Dimension::speed;
  case Figure::topsoil_depth:
    return Dimension::length;
  case Figure::drainable_porosity:
    break;
  }
  return std::nullopt;
}

std::vector<UncertainInput> find_uncertain_inputs(const site::Site& site) {
  std::vector<UncertainInput> inputs = inputs_in_use(site);
  std::erase_if(inputs, [](const UncertainInput& one) { return !one.band.is_band(); });
  return inputs;
}

std::vector<UncertainInput> find_conductivities(const site::Site& site) {
  std::vector<UncertainInput> inputs = inputs_in_use(site);
  std::erase_if(inputs, [](const UncertainInput& one) {
    return one.figure != Figure::topsoil_conductivity && one.figure != Figure::tight_conductivity;
  });
  return inputs;
}

std::vector<std::vector<double>> stratified(int draws, int inputs, std::uint64_t seed) {
  Dice dice(seed);
  std::vector<std::vector<double>> best;
  double least = std::numeric_limits<double>::infinity();
  for (int k = 0; k < candidate_sets; ++k) {
    std::vector<std::vector<double>> set = one_set(draws, inputs, dice);
    const double tangled = entanglement(set);
    if (tangled < least) {
      least = tangled;
      best = std::move(set);
    }
    if (inputs < 2 || draws < 3) break;
  }
  return best;
}

site::Site with_values(const site::Site& site, const std::vector<UncertainInput>& inputs,
                       const std::vector<double>& values) {
  site::Site drawn = site;
  for (std::size_t k = 0; k < inputs.size(); ++k)
    figure_of(drawn.soils[inputs[k].soil], inputs[k].figure) = values[k];
  // Sod over a trench is the topsoil beside it.
  for (site::Design& design : drawn.designs)
    for (site::Run& run : design.runs) {
      if (!run.cap.of_topsoil) continue;
      const Point middle = point_along(run.path, length(run.path) / 2);
      const double was = site::topsoil_conductivity_at(site, middle);
      if (was > 0) run.cap.conductivity *= site::topsoil_conductivity_at(drawn, middle) / was;
    }
  // A table that was given stays where it was, but not above a thinner topsoil.
  for (site::Soil& soil : drawn.soils) soil.perched_start = std::min(soil.perched_start, soil.depth.likely);
  return drawn;
}

const site::Design* same_design(const site::Site& copy, const site::Site& original,
                                const site::Design* design) {
  return design ? &copy.designs[static_cast<std::size_t>(design - original.designs.data())] : nullptr;
}

} // namespace lowspot::study
