#include <lowspot/report/source_colors.hpp>

#include <map>
#include <string>

namespace lowspot::report {
namespace {

// Hues apart for red-green and blue-yellow weak eyes, lightness alternating within a family.
const std::map<std::string, std::vector<Lch>>& families() {
  static const std::map<std::string, std::vector<Lch>> all = {
      {"roof", {{0.62, 0.17, 45}, {0.82, 0.14, 80}, {0.48, 0.15, 35}, {0.90, 0.09, 90}}},
      {"rain",
       {{0.55, 0.13, 250},
        {0.82, 0.08, 230},
        {0.60, 0.10, 170},
        {0.40, 0.11, 265},
        {0.88, 0.07, 160},
        {0.48, 0.07, 180}}},
      {"inflow", {{0.70, 0.13, 330}, {0.88, 0.07, 330}}},
      {"leak", {{0.25, 0.02, 260}}},
      {"from below", {{0.45, 0.07, 60}}},
      {"drain", {{0.93, 0.005, 260}}},
  };
  return all;
}

} // namespace

std::vector<Rgb> source_colors(const results::SourceShares& shares) {
  std::map<std::string, std::size_t> used;
  std::vector<Rgb> colors;
  for (const results::SourceName& source : shares.sources) {
    const auto family = families().find(source.kind);
    const std::vector<Lch>& anchors = family == families().end() ? families().at("drain") : family->second;
    colors.push_back(rgb(anchors[used[source.kind]++ % anchors.size()]));
  }
  return colors;
}

Rgb ink_on(const Rgb& color) {
  return lightness(color) > 0.62 ? Rgb{0.08, 0.08, 0.1} : Rgb{1, 1, 1};
}

} // namespace lowspot::report
