#include "catch.hpp"
#include "simple_yard.hpp"

#include <lowspot/study/one_run.hpp>

using namespace lowspot;

namespace {
SimpleYard bowl() {
  SimpleYard yard =
      simple_yard(16, 12, 0.25, [](double x, double y) { return 1.0 + 0.02 * std::hypot(x - 2.0, y - 1.5); });
  make_pervious(yard);
  open_side(yard, terrain::Side::east);
  add_whole_area(yard, "bowl");
  rain_at(yard, 1e-5, 1800);
  yard.site.storm.dry = 4 * 3600.0;
  return yard;
}
} // namespace

TEST_CASE("a run that keeps figures alone finds the same figures") {
  const SimpleYard yard = bowl();
  const site::Design drain = simple_drain(yard, 0.45);
  study::RunSettings settings;
  double last = 0;
  settings.progress = [&](double share) {
    CHECK(share >= last);
    last = share;
  };
  const study::OneRun full = study::run_one(yard.site, yard.ground, yard.rain, &drain, {}, settings);
  CHECK(last == 1);
  settings.figures_only = true;
  last = 0;
  const study::OneRun lean = study::run_one(yard.site, yard.ground, yard.rain, &drain, {}, settings);
  CHECK(full.record.name == "drain");
  CHECK(full.record.frames.size() > 1);
  CHECK(lean.record.frames.empty());
  CHECK(lean.record.series.empty());
  CHECK(lean.record.areas[0].standing_hours_after_rain == full.record.areas[0].standing_hours_after_rain);
  CHECK(lean.record.drains[0].volume_out == full.record.drains[0].volume_out);
  CHECK(lean.record.drains[0].peak_flow == full.record.drains[0].peak_flow);
  CHECK(lean.record.ledger.left_over_edges == full.record.ledger.left_over_edges);
  CHECK(lean.record.steps == full.record.steps);
}

TEST_CASE("most of a run's cost lies in the storm") {
  CHECK(study::share_done(0, 3600, 86400) == 0);
  CHECK_THAT(study::share_done(9000, 3600, 86400), WithinAbs(0.9, 1e-12));
  CHECK(study::share_done(86400, 3600, 86400) == 1);
  CHECK(study::share_done(7200, 7200, 7200) <= 1);
}
