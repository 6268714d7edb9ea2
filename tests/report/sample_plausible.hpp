// A made-up band over five soils for the tests of its section; it goes with the sample comparison.
#pragma once
#include <lowspot/results/plausible_record.hpp>

#include "results/sample_comparison.hpp"

namespace sample {

inline lowspot::results::PlausibleStudy plausible(const lowspot::results::Comparison& comparison) {
  using namespace lowspot::results;
  PlausibleStudy study;
  study.draws = 5;
  study.seed = 3;
  study.cell = 0.45;
  study.method = "routed";
  study.weights.assign(5, 1.0);
  study.effective = 5;
  study.runs = 12;
  study.sentence = "Works in 4 of 5 plausible soils.";
  PlausibleInput tight;
  tight.key = "soil.yard.tight_layer.conductivity";
  tight.name = "conductivity of the tight layer";
  tight.dimension = lowspot::Dimension::speed;
  tight.low = 2e-8, tight.likely = 1.4e-7, tight.high = 7e-7;
  tight.values = {1e-8, 5e-8, 1.4e-7, 4e-7, 1e-6};
  study.inputs = {tight};
  for (std::size_t d = 0; d < comparison.designs.size(); ++d) {
    PlausibleDesign design;
    design.name = comparison.designs[d].name;
    design.works = {0, d > 0, d > 0, d > 0, 1};
    design.count = d > 0 ? 4 : 1;
    design.share = design.count / 5.0;
    design.flip = {0, 3e-8, true, 0};
    study.designs.push_back(design);
    PlausibleFigure hours;
    hours.design = design.name;
    hours.what = "standing_hours", hours.place = "long bed", hours.unit = "h";
    hours.main = d > 0 ? 6 : 60, hours.coarse = hours.main / 1.25, hours.factor = 1.25;
    hours.p10 = hours.main / 3, hours.p50 = hours.main, hours.p90 = d > 0 ? 20 : 120;
    hours.open_ended = d == 0;
    hours.values = {120, hours.main * 2, hours.main, hours.main / 2, hours.main / 4};
    hours.open = {d == 0, 0, 0, 0, 0};
    hours.shares = {{0.9, -0.95}};
    study.figures.push_back(hours);
  }
  NextTest test;
  test.name = "a hole test in the tight layer", test.how = "Dig a hole.";
  test.minutes = 120, test.factor_now = 5, test.factor_then = 2, test.answer_now = 4, test.answer_then = 2;
  test.next = true;
  study.tests = {test};
  return study;
}

} // namespace sample
