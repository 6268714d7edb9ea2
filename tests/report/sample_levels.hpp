// A small rod book with one slip in it, reviewed.
#pragma once
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <string>

#include <lowspot/site/site.hpp>
#include <lowspot/terrain/level_review.hpp>

namespace sample {

// A 60 by 40 ft yard on a gentle bowl, shot every 6 ft from one set-up; shot 25 is read a foot too high on
// the rod when `slip`. `last` is the reading that closes on the benchmark.
inline lowspot::site::Site levels_site(const std::string& name, bool slip = true,
                                       const std::string& last = "4.33",
                                       const std::string& first_name = "1") {
  using namespace lowspot;
  const double feet = 0.3048;
  site::Site site;
  site.name = "Sample levels";
  site.folder = std::filesystem::temp_directory_path() / "lowspot_report_levels";
  std::filesystem::create_directories(site.folder);
  site.file = site.folder / "site.toml";
  site.outline = {{0, 0}, {60 * feet, 0}, {60 * feet, 42 * feet}, {0, 42 * feet}};
  site.cell = 2 * feet;
  site.soils.resize(1);
  site.lawn.name = "lawn";
  site.ground.levels = name;
  std::ofstream out(site.folder / name);
  out << "point,x,y,backsight,intermediate,foresight,elevation,note\nBM,,,4.32,,,100.00,sill\n";
  int k = 0;
  for (int j = 0; j < 8; ++j)
    for (int i = 0; i < 11; ++i) {
      const double x = 6.0 * i, y = 6.0 * j;
      const double z = 99 + 0.01 * y - 0.4 * std::exp(-(std::pow(x - 27, 2) + std::pow(y - 20, 2)) / 120) +
                       0.01 * std::sin(3 * x + 5 * y);
      ++k;
      char text[64];
      std::snprintf(text, sizeof text, ",%g,%g,,%.2f,,,\n", x, y, 104.32 - z + (slip && k == 25 ? 1 : 0));
      out << (k == 1 ? first_name : std::to_string(k)) << text;
    }
  if (!last.empty()) out << "BM,,,,," << last << ",,\n";
  return site;
}

} // namespace sample
