#include "catch.hpp"
#include "simple_yard.hpp"

#include <lowspot/study/draw_runs.hpp>
#include <lowspot/study/seen_weights.hpp>

using namespace lowspot;

TEST_CASE("a run as text and back keeps every digit") {
  study::DrawnRun run;
  run.figures = {{"standing_hours", "caf\u00e9 \"bed\"", "h", 1.0 / 3, true},
                 {"volume", "west", "m3", 1e-17, false}};
  results::BedRecord bed;
  bed.name = "bed", bed.soggy_hours = 1.0 / 7, bed.days_below_half_available_water = 3;
  bed.still_soggy = true;
  run.beds = {bed};
  run.seconds = 0.1;
  run.end = 1e5;
  const study::DrawnRun back = study::drawn_run(study::to_text(run));
  REQUIRE(back.figures.size() == 2);
  CHECK(back.figures[0].place == run.figures[0].place);
  CHECK(back.figures[0].value == 1.0 / 3);
  CHECK(back.figures[0].open);
  CHECK(back.figures[1].value == 1e-17);
  REQUIRE(back.beds.size() == 1);
  CHECK(back.beds[0].soggy_hours == 1.0 / 7);
  CHECK(back.beds[0].still_soggy);
  CHECK(back.end == 1e5);
  CHECK(back.season_beds.empty());
  CHECK(back.seconds == 0.1);
}

TEST_CASE("each draw has its own soil, the same for every design") {
  SimpleYard yard =
      simple_yard(8, 6, 0.5, [](double x, double y) { return 1.0 + 0.02 * std::hypot(x - 2, y - 1.5); });
  make_pervious(yard);
  add_whole_area(yard, "bowl");
  yard.site.storm.pattern = "blocks";
  yard.site.storm.blocks = {{1800, 1e-5}};
  yard.site.storm.dry = 24 * 3600.0;
  site::Soil& soil = yard.site.soils[0];
  soil.conductivity = {3e-7, 1e-6, 3e-6};
  soil.tight_conductivity = {5e-7, 1e-6, 2e-6};
  site::Seen seen;
  seen.name = "puddle", seen.area = "bowl", seen.rain = 0.02, seen.rain_duration = 1800,
  seen.lasted = 4 * 3600;
  yard.site.seen = {seen};
  const auto inputs = study::find_uncertain_inputs(yard.site);
  REQUIRE(inputs.size() == 2);
  study::ThreadExecutor executor(2);
  study::PlausibleOptions options;
  const study::DrawRuns runs = study::run_draws(
      yard.site, yard.ground, nullptr, inputs, {{3e-7, 5e-7}, {1e-6, 1e-6}, {3e-6, 2e-6}}, executor, options);
  CHECK(runs.main.empty());
  REQUIRE(runs.draws.size() == 3);
  CHECK(runs.runs == 7);
  const auto hours = [&](int draw) { return runs.draws[draw][0].figures[0].value; };
  CHECK(hours(1) == runs.likely[0].figures[0].value);
  CHECK(runs.draws[0][0].end == Approx(1800 + 24 * 3600));
  CHECK(hours(0) > hours(1));
  CHECK(hours(1) > hours(2));
  REQUIRE(runs.seen_hours.size() == 1);
  CHECK(runs.seen_hours[0][0] > runs.seen_hours[0][2]);
  CHECK(runs.seen_hours[0][0] <= study::seen_followed * yard.site.seen[0].lasted / 3600);
}
