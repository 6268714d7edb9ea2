// Does each shot agree with its neighbours?
#pragma once
#include <string>
#include <vector>

#include <lowspot/terrain/blunders.hpp>
#include <lowspot/terrain/raster_ground.hpp>
#include <lowspot/terrain/setup_steps.hpp>
#include <lowspot/terrain/survey.hpp>

namespace lowspot::terrain {

// For each point of the survey, its elevation minus that of the triangulation without it [m]. NaN on the
// hull, where the ground without it does not reach, and on breaklines.
std::vector<double> leave_one_out(const Survey& survey, const Tin& tin);

// What looks wrong in a book: steps first, then single shots, found in the book without the steps.
struct BookCheck {
  std::vector<SetupStep> steps; // bumps of the instrument
  std::vector<Suspicion> shots; // single shots, the worst first
};
// Over a raster (may be null) the shots are judged by how they differ from it, so that its relief is no
// misfit.
BookCheck check_book(const LevelBook& book, const site::Site& site, const HeightMap* raster = nullptr);

// One sentence each, with file and line, in the site's units.
std::string step_text(const SetupStep& step, const LevelBook& book, const site::Site& site);
std::string suspicion_text(const Suspicion& suspicion, const LevelBook& book, const site::Site& site);

// The sentences of the five worst.
std::vector<std::string> worst_sentences(const BookCheck& check, const LevelBook& book,
                                         const site::Site& site);
// The same for the warnings of a ground; none for more than 2000 shots, which no hand wrote down.
std::vector<std::string> suspicious_shots(const LevelBook& book, const site::Site& site,
                                          const HeightMap* raster = nullptr);

} // namespace lowspot::terrain
