#include "catch.hpp"

#include <lowspot/report/cut_profile.hpp>

using namespace lowspot;

namespace {
job::CutRun sample_run() {
  job::CutRun run;
  run.name = "leg & more";
  run.inside_diameter = 0.1;
  for (int k = 0; k <= 4; ++k) {
    job::CutStation station;
    station.station = 2.0 * k;
    station.ground = 10;
    station.invert = 9.5 + 0.02 * k;
    station.bottom = station.invert - 0.05;
    run.stations.push_back(station);
  }
  return run;
}
int count(const std::string& text, const std::string& piece) {
  int found = 0;
  for (std::size_t at = text.find(piece); at != std::string::npos; at = text.find(piece, at + 1)) ++found;
  return found;
}
} // namespace

TEST_CASE("a profile shows ground, pipe and trench, and its name as typed") {
  const std::string svg = report::cut_profile_svg(sample_run(), {}, report::units_for("m"), false);
  CHECK_THAT(svg, ContainsSubstring("Profile of leg &amp; more"));
  CHECK(count(svg, "class=\"ground\"") == 2);
  CHECK(count(svg, "class=\"pipe\"") == 1);
  CHECK(count(svg, "<circle") == 0);
}

TEST_CASE("readings are marked by shape: a ring where right, a cross where not; other runs' are left out") {
  const std::vector<job::DugCheck> checks = {
      {{"leg & more", 2, 9.47, 1}, 9.47, 0, job::DugAnswer::accept},
      {{"leg & more", 4, 9.55, 2}, 9.49, 0.06, job::DugAnswer::dig_more},
      {{"other", 4, 9.55, 3}, 9.49, 0.06, job::DugAnswer::dig_more}};
  const std::string svg = report::cut_profile_svg(sample_run(), checks, report::units_for("m"), false);
  CHECK(count(svg, "<circle") == 1);
  CHECK(count(svg, "stroke=\"var(--bad)\"") == 1);
}

TEST_CASE("a run with one station has no profile") {
  job::CutRun run = sample_run();
  run.stations.resize(1);
  CHECK(report::cut_profile_svg(run, {}, report::units_for("ft"), true).empty());
}
