#include <lowspot/terrain/raster_doubts.hpp>

#include <algorithm>
#include <cmath>
#include <iterator>

#include <lowspot/base/text.hpp>

namespace lowspot::terrain {
namespace {

std::vector<double> heights_in_order(const gis::Raster& raster) {
  std::vector<double> heights;
  heights.reserve(raster.z.size());
  std::copy_if(raster.z.begin(), raster.z.end(), std::back_inserter(heights),
               [](double z) { return !std::isnan(z); });
  std::sort(heights.begin(), heights.end());
  return heights;
}

class Doubts {
public:
  Doubts(const site::Site& site, const gis::Raster& raster)
      : site_(site), raster_(raster), heights_(heights_in_order(raster)) {}

  // One figure at an end of all heights, further off than the others span: no ground has it.
  void of_filler() {
    if (heights_.size() < 2) return;
    const auto after_low = std::upper_bound(heights_.begin(), heights_.end(), heights_.front());
    const auto first_high = std::lower_bound(heights_.begin(), heights_.end(), heights_.back());
    if (after_low == heights_.end()) return; // level
    if (after_low != first_high) {
      of_end(heights_.front(), after_low - heights_.begin(), *after_low - heights_.front(),
             heights_.back() - *after_low, "below", "a pit that swallows the rain");
      of_end(heights_.back(), heights_.end() - first_high, heights_.back() - *(first_high - 1),
             *(first_high - 1) - heights_.front(), "above", "a tower that sheds it");
    }
  }

  // Differences between neighbouring heights all whole numbers of a step that is no fine one.
  void of_steps() {
    constexpr double coarsest_fine = 0.02; // m: a puddle that matters is as deep
    double least = 0;
    for (std::size_t k = 1; k < heights_.size(); ++k) {
      const double step = heights_[k] - heights_[k - 1];
      if (step > 1e-6 && (least == 0 || step < least)) least = step;
    }
    if (least < coarsest_fine) return;
    // A slope of single cells has steps as high, but its neighbours differ.
    constexpr double few = 0.3;
    if (level_share(1, 0) < few || level_share(0, 1) < few || heights_.front() == heights_.back()) return;
    add("its heights go in steps of " + length(least) +
        ", so that the ground is computed as terraces, whose puddles are the steps' and not the yard's; take "
        "heights with decimals, or levels");
  }

  void of_wide_cells() {
    constexpr double widest_fine = 2; // m: what a hollow, a swale or a curb spans
    const double cell = std::max(raster_.dx, raster_.dy);
    if (cell > widest_fine * (1 + 1e-6))
      add("its cells are " + length(cell) +
          " wide, so that hollows, swales and edges narrower than two of them are not in it, nor the water "
          "that "
          "stands there; add levels over it");
  }

  void of_unit() {
    if (!std::isnan(site_.ground.raster_unit) || !std::isnan(raster_.metres_per_vertical_unit)) return;
    const double own = raster_.file_in_degrees ? 1 : raster_.metres_per_file_unit;
    const double ratio = own / site_.unit;
    if (std::isnan(own) || std::abs(ratio - 1) < 1e-3) return;
    const std::string other = own > 0.9 ? "m" : "ft";
    add("nobody says the unit of its heights; they are taken in " + site_.units +
        ", but its coordinates are in " + (raster_.file_in_degrees ? "degrees" : other) +
        ", beside which heights mostly are in " + other + ": then the ground is really " +
        rounded(std::max(ratio, 1 / ratio), 2) + " times as " + (ratio > 1 ? "steep" : "flat") +
        ". Write raster_units in [ground]");
  }

  std::vector<std::string> sentences;

private:
  // Share of the cells that lie exactly as high as their neighbour so many columns and rows on.
  double level_share(int columns, int rows) const {
    std::size_t pairs = 0, level = 0;
    for (int j = 0; j + rows < raster_.ny; ++j)
      for (int i = 0; i + columns < raster_.nx; ++i) {
        const double one = raster_.at(i, j), other = raster_.at(i + columns, j + rows);
        if (std::isnan(one) || std::isnan(other)) continue;
        ++pairs;
        level += one == other ? 1 : 0;
      }
    return pairs > 0 ? static_cast<double>(level) / static_cast<double>(pairs) : 0;
  }
  void of_end(double height, std::ptrdiff_t cells, double apart, double span, const char* side,
              const char* consequence) {
    constexpr double least = 1; // m
    if (apart <= std::max(least, span)) return;
    add(std::to_string(cells) + (cells == 1 ? " cell stands" : " cells stand") + " at " +
        rounded(height / site_.unit, 6) + " " + site_.units + ", " + length(apart) + " " + side +
        " all others: probably where the program that wrote them had no data. They are taken as ground, " +
        consequence + "; declare the figure as no-data value in the raster");
  }
  void add(const std::string& sentence) {
    sentences.push_back((site_.folder / site_.ground.raster).string() + ": " + sentence + ".");
  }
  std::string length(double metres) const { return rounded(metres / site_.unit, 2) + " " + site_.units; }

  const site::Site& site_;
  const gis::Raster& raster_;
  std::vector<double> heights_;
};

} // namespace

std::vector<std::string> raster_doubts(const site::Site& site, const gis::Raster& raster) {
  Doubts doubts(site, raster);
  doubts.of_filler();
  doubts.of_steps();
  doubts.of_wide_cells();
  doubts.of_unit();
  return doubts.sentences;
}

} // namespace lowspot::terrain
