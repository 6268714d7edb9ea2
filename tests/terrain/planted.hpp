// Seeded yards with real relief, shot by a crew with a rod in feet and tenths, and errors planted in their
// books.
#pragma once
#include <cmath>
#include <cstdio>
#include <random>
#include <string>
#include <vector>

#include <lowspot/terrain/survey.hpp>

#include "yards.hpp"

namespace lowspot::terrain {

constexpr double planted_foot = 0.3048;

struct PlantedYard {
  site::Site site;
  std::vector<std::string> names;
  std::vector<double> x, y, reading; // ft
  double instrument = 104.32;
};

// Ground of a back yard [ft]: a fall to the south, a swale, a bowl, a patio with a step of 3 to 7 inches all
// round it, a terrace held by a wall of a foot, and lawn that is rough by a third of an inch.
struct Relief {
  explicit Relief(unsigned seed) : random(seed) {
    auto between = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); };
    fall = between(0.01, 0.05);
    cross = between(-0.02, 0.02);
    swale_at = between(10, 20);
    swale = between(0.2, 0.6);
    bowl_x = between(15, 45);
    bowl_y = between(22, 30);
    bowl = between(0.2, 0.5);
    patio_x = between(10, 25);
    step = between(0.25, 0.6);
    rough = between(0.01, 0.03);
  }
  bool on_patio(double x, double y) const { return x > patio_x && x < patio_x + 20 && y > 34 && y < 48; }
  double at(double x, double y) const {
    double z = 100 + fall * (y - 50) + cross * (x - 30);
    z -= swale * std::exp(-std::pow((y - swale_at - 0.1 * x) / 4, 2));
    z -= bowl * std::exp(-(std::pow(x - bowl_x, 2) + std::pow(y - bowl_y, 2)) / 40);
    if (on_patio(x, y)) z = 100 + fall * -9 + step + 0.01 * (y - 41);
    if (y > 52) z += 1; // the terrace
    return z;
  }
  std::mt19937 random;
  double fall, cross, swale_at, swale, bowl_x, bowl_y, bowl, patio_x, step, rough;
};

// A grid of shots about 6 ft apart, the patio's corners and edges from both sides, the wall from both sides.
inline PlantedYard shot_yard(unsigned seed) {
  Relief relief(seed);
  PlantedYard yard;
  yard.site = plain_site(rectangle(0, 0, 60 * planted_foot, 60 * planted_foot), 0.3);
  yard.site.units = "ft";
  yard.site.unit = planted_foot;
  std::normal_distribution<double> rod(0, 0.006), lawn(0, relief.rough);
  std::uniform_real_distribution<double> off(-1.2, 1.2);
  auto shoot = [&](double x, double y) {
    const double z = relief.at(x, y) + rod(relief.random) + (relief.on_patio(x, y) ? 0 : lawn(relief.random));
    yard.x.push_back(x);
    yard.y.push_back(y);
    yard.reading.push_back(std::round(100 * (yard.instrument - z)) / 100);
    yard.names.push_back("p" + std::to_string(yard.x.size()));
  };
  for (int j = 0; j < 11; ++j)
    for (int i = 0; i < 11; ++i) {
      const double x = std::clamp(6.0 * i + off(relief.random), 0.0, 60.0);
      const double y = std::clamp(6.0 * j + off(relief.random), 0.0, 60.0);
      shoot(std::round(10 * x) / 10, std::round(10 * y) / 10);
    }
  for (double s = 0; s <= 20; s += 5)
    for (double side : {34.1, 33.9, 47.9, 48.1}) shoot(relief.patio_x + std::clamp(s, 0.1, 19.9), side);
  for (double s = 36; s <= 46; s += 5)
    for (double side : {0.1, -0.1, 19.9, 20.1}) shoot(relief.patio_x + side, s);
  for (double x = 2; x < 60; x += 8)
    for (double y : {51.9, 52.1}) shoot(x, y);
  return yard;
}

inline LevelBook book_of(const PlantedYard& yard) {
  LevelBook book;
  book.file = "levels.csv";
  for (std::size_t k = 0; k < yard.x.size(); ++k) {
    char text[32];
    std::snprintf(text, sizeof text, "%.2f", yard.reading[k]);
    Shot shot;
    shot.name = yard.names[k];
    shot.at = {yard.x[k] * planted_foot, yard.y[k] * planted_foot,
               (yard.instrument - yard.reading[k]) * planted_foot};
    shot.line = static_cast<int>(k) + 2;
    shot.written = {text, planted_foot, -1};
    book.shots.push_back(shot);
  }
  return book;
}

} // namespace lowspot::terrain
