#include <lowspot/terrain/level_review.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/base/error.hpp>
#include <lowspot/terrain/raster_ground.hpp>

namespace lowspot::terrain {
namespace {

constexpr double enough_cells = 10000;
constexpr std::size_t shots_wanted = 3;

// What each point of the survey is off by where it is left out, as a difference from the raster: there the
// shots know only what the raster does not. Of a point beyond the raster nothing is known, nor does it say
// anything of others.
std::vector<double> left_out_over(const Survey& survey, const HeightMap& map) {
  std::vector<double> errors(survey.points.size(), std::numeric_limits<double>::quiet_NaN());
  std::vector<std::size_t> whole;
  Survey differences = points_that(
      survey,
      [&](const SurveyPoint& point) {
        return !height_at(map, {point.at.x, point.at.y}).outside;
      },
      &whole);
  for (SurveyPoint& point : differences.points) point.at.z -= height_at(map, {point.at.x, point.at.y}).z;
  if (differences.points.size() < 3) return errors;
  const Tin tin = triangulate(differences);
  if (tin.triangles.empty()) return errors;
  const std::vector<double> known = leave_one_out(differences, tin);
  for (std::size_t k = 0; k < known.size(); ++k) errors[whole[k]] = known[k];
  return errors;
}

} // namespace

LevelReview review_levels(const site::Site& site, double cell) {
  if (site.ground.levels.empty())
    throw InputError({site.file.string(), 0, "ground.levels"}, "no table of levels",
                     "a rod book or x,y,elevation", "name it in [ground]: levels = \"levels.csv\"");
  if (std::isnan(cell) && !(area(site.outline) / (site.cell * site.cell) <= enough_cells))
    cell = std::sqrt(area(site.outline) / enough_cells);
  LevelReview review;
  review.ground = build_ground(site, cell);
  review.book = read_levels(site);
  review.survey = gather_survey(review.book, site);
  review.tin = triangulate(review.survey);
  const bool raster = !site.ground.raster.empty();
  HeightMap map;
  if (raster) {
    std::vector<std::string> warnings; // the ground has them
    std::vector<site::Assumption> assumptions;
    map = read_height_map(site, review.ground.grid, warnings, assumptions);
  }
  review.check = check_book(review.book, site, raster ? &map : nullptr);
  const std::vector<std::string> said = worst_sentences(review.check, review.book, site);
  for (const std::string& warning : review.ground.warnings)
    if (std::find(said.begin(), said.end(), warning) == said.end()) review.other_warnings.push_back(warning);
  review.leave_one_out =
      raster ? left_out_over(review.survey, map) : leave_one_out(review.survey, review.tin);
  std::vector<int> bad;
  for (const Suspicion& suspicion : review.check.shots) bad.push_back(suspicion.line);
  const Doubt doubt(review.survey, review.leave_one_out, bad);
  review.doubt = doubt.on(review.ground.grid, review.ground.active);
  // A slab with shots of its own is known by them.
  for (std::size_t c = 0; c < review.doubt.size(); ++c) {
    const int cover = review.ground.cover[c];
    if (cover >= 0 && site.areas[cover].surface.size() >= 3 && review.ground.active[c]) review.doubt[c] = 0;
  }
  review.low_spot_volume = low_spot_volume(review.ground);
  review.next = next_shots(review.ground, review.survey, review.tin, doubt, site, shots_wanted);
  return review;
}

} // namespace lowspot::terrain
