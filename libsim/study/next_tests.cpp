#include <lowspot/study/next_tests.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/measure/several_holes.hpp>

namespace lowspot::study {
namespace {
using Figure = UncertainInput::Figure;

// P90 over P50 that one hole or ring leaves about itself: the sorptive number, the shape factor and readings,
// as measure::reduce() has them for a presoaked hole.
constexpr double one_hole = 1.8;
constexpr double worth_it = 0.05;  // least narrowing of the logarithm
constexpr double least_seen = 1.1; // of the factor itself: less is lost in two digits, and on nobody's watch

int holes_in(const site::Soil& soil, const std::string& layer) {
  return static_cast<int>(
      std::count_if(soil.holes.begin(), soil.holes.end(),
                    [&](const site::HoleTest& hole) { return hole.used && hole.layer == layer; }));
}

// One hole says little about the next spot, so the first three are dug together; after that one more at a
// time.
int holes_to_dig(const site::Soil& soil, const std::string& layer) {
  return std::max(1, 3 - holes_in(soil, layer));
}

// "three hole tests", "two more hole tests", "one more hole test".
std::string counted(const site::Soil& soil, const std::string& layer, const std::string& test) {
  const int count = holes_to_dig(soil, layer);
  const std::string words[] = {"one", "two", "three"};
  return words[count - 1] + (holes_in(soil, layer) > 0 ? " more " : " ") + test + (count > 1 ? "s" : "");
}

// What they leave of the conductivity, as the reader of hole tests will have it.
double after_digging(const site::Soil& soil, const std::string& layer, const site::Band& band) {
  const std::vector<measure::Range> holes(holes_in(soil, layer) + holes_to_dig(soil, layer),
                                          {band.likely / one_hole, band.likely, band.likely * one_hole});
  const measure::Together together = measure::combine(holes);
  return std::sqrt(together.anywhere.high / together.anywhere.low);
}

bool assumed(const site::Site& site, const std::string& ending) {
  return std::any_of(site.assumptions.begin(), site.assumptions.end(), [&](const site::Assumption& one) {
    return one.tag == "default" && one.key.size() >= ending.size() &&
           one.key.compare(one.key.size() - ending.size(), ending.size(), ending) == 0;
  });
}

results::NextTest test_for(const site::Site& site, const UncertainInput& input) {
  const site::Soil& soil = site.soils[input.soil];
  results::NextTest test;
  switch (input.figure) {
  case Figure::topsoil_depth:
    test.name = "probing the depth of the topsoil";
    test.how =
        "Push a rod or cut with a spade at five places until it meets the tight layer, and note the depths.";
    test.minutes = 15;
    test.factor_then = 1.15; // an inch of seven
    break;
  case Figure::topsoil_conductivity:
    test.name = counted(soil, "topsoil", "ring test") + " on the topsoil";
    test.how =
        "Drive a ring of pipe into the turf where water stands, keep it full until the fall is steady, and "
        "time the fall.";
    if (assumed(site, "topsoil.texture"))
      test.how += " Its texture was assumed: feel it first, which takes five minutes and costs nothing.";
    test.minutes = 50 + 40 * holes_to_dig(soil, "topsoil");
    test.factor_then = after_digging(soil, "topsoil", input.band);
    break;
  case Figure::tight_conductivity:
    test.name = counted(soil, "tight layer", "hole test") + " in the tight layer";
    test.how = "Dig down into the tight layer a spade's width, one hole at the low spot, keep it full "
               "overnight, then "
               "write down the fall of its water against time (hole_test in the site file).";
    test.minutes = 60 + 60 * holes_to_dig(soil, "tight layer");
    test.factor_then = after_digging(soil, "tight layer", input.band);
    break;
  case Figure::drainable_porosity:
    test.name = "weighing a core of the topsoil";
    test.how =
        "Take a core in a can of known volume, soak it, weigh it, let it drip for two days and weigh it "
        "again: the loss over the volume is what drains.";
    test.minutes = 60;
    test.factor_then = 1.2;
    break;
  }
  test.factor_now = input.band.low > 0 ? std::sqrt(input.band.high / input.band.low) : 0;
  if (test.factor_now > 0) test.factor_then = std::min(test.factor_then, test.factor_now);
  return test;
}
} // namespace

std::vector<results::NextTest> next_tests(const site::Site& site, const std::vector<UncertainInput>& inputs,
                                          const std::vector<results::SpreadShare>& shares,
                                          double answer_factor) {
  std::vector<results::NextTest> tests;
  double best = 0;
  for (std::size_t k = 0; k < inputs.size(); ++k) {
    if (!(inputs[k].band.likely > 0)) continue; // a layer that lets nothing through has no band to narrow
    results::NextTest test = test_for(site, inputs[k]);
    test.input = static_cast<int>(k);
    // A band that reaches down to nothing has no width as a ratio: the test is taken to settle it.
    const double left = test.factor_now > 1 ? std::log(test.factor_then) / std::log(test.factor_now) : 0;
    test.answer_now = answer_factor;
    test.answer_then =
        std::exp(std::log(answer_factor) * std::sqrt(std::max(0.0, 1 - shares[k].share * (1 - left * left))));
    best = std::max(best, std::log(test.answer_now / test.answer_then));
    tests.push_back(std::move(test));
  }
  std::stable_sort(tests.begin(), tests.end(), [](const results::NextTest& a, const results::NextTest& b) {
    return a.minutes < b.minutes;
  });
  for (results::NextTest& test : tests) {
    const double narrowed = std::log(test.answer_now / test.answer_then);
    if (answer_factor <= 1 || narrowed < 0.5 * best || narrowed < worth_it * std::log(answer_factor) ||
        narrowed < std::log(least_seen))
      continue;
    test.next = true;
    break;
  }
  return tests;
}

} // namespace lowspot::study
