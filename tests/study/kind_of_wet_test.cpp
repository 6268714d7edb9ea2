// Kinds of wet from simulated yards whose kind is known beforehand.
#include <lowspot/study/kind_of_wet.hpp>

#include "catch.hpp"
#include "simple_yard.hpp"

#include <lowspot/study/compare.hpp>

using namespace lowspot;

namespace {

const study::WetPlace& named(const std::vector<study::WetPlace>& places, const std::string& name) {
  for (const study::WetPlace& place : places)
    if (place.name == name) return place;
  throw std::runtime_error("no place " + name);
}

SimpleYard soaking_yard(const std::function<double(double, double)>& ground) {
  SimpleYard yard = simple_yard(12, 8, 0.5, ground);
  make_pervious(yard);
  add_whole_area(yard, "lawn");
  yard.site.storm.pattern = "blocks";
  yard.site.storm.dry = 4 * 86400;
  return yard;
}

double bowl(double x, double y) {
  return 0.01 * ((x - 3) * (x - 3) + (y - 2) * (y - 2));
}

} // namespace

TEST_CASE("the kind follows from hours of puddle and of full soil") {
  using study::Wet;
  CHECK(study::kind_of_wet(0, 0) == Wet::no);
  CHECK(study::kind_of_wet(5, 2) == Wet::surface);
  CHECK(study::kind_of_wet(0.2, 50) == Wet::perched);
  CHECK(study::kind_of_wet(30, 60) == Wet::both);
  CHECK(study::wet_name(Wet::perched) == "water in the soil");
}

TEST_CASE("tight topsoil in a bowl that is far from full: surface water") {
  SimpleYard yard = soaking_yard(bowl);
  yard.site.soils[0].conductivity = {3e-7, 3e-7, 3e-7};
  yard.site.soils[0].initial_moisture = 0.15;
  yard.site.soils[0].tight_conductivity = {1e-6, 1e-6, 1e-6};
  yard.site.storm.blocks = {{1800, 1e-5}};
  const results::Comparison comparison = study::compare(yard.site, yard.ground, {});
  const study::WetPlace place =
      named(study::judge_wet_places(yard.site, comparison, comparison.designs[0]), "low spot 1");
  CHECK(place.wet == study::Wet::surface);
  REQUIRE(place.fixes.size() == 1);
  CHECK(place.fixes[0].source == "rain on lawn");
  CHECK_THAT(place.fixes[0].share, WithinAbs(1.0, 1e-9));
  CHECK(place.test.find("screwdriver") != std::string::npos);
}

TEST_CASE("open topsoil nearly full over a layer that lets nothing through: water in the soil") {
  SimpleYard yard = soaking_yard([](double, double) { return 0.0; });
  yard.site.soils[0].conductivity = {1e-4, 1e-4, 1e-4};
  yard.site.soils[0].perched_start = 0.2;
  yard.site.storm.blocks = {{3600, 1e-6}};
  const results::Comparison comparison = study::compare(yard.site, yard.ground, {});
  const study::WetPlace place =
      named(study::judge_wet_places(yard.site, comparison, comparison.designs[0]), "lawn");
  CHECK(place.puddle_hours == 0);
  CHECK(place.soggy_hours > 48);
  CHECK(place.wet == study::Wet::perched);
}

TEST_CASE("a bowl whose soil fills up: both") {
  SimpleYard yard = soaking_yard(bowl);
  yard.site.soils[0].perched_start = 0.25;
  yard.site.storm.blocks = {{3600, 1e-5}};
  const results::Comparison comparison = study::compare(yard.site, yard.ground, {});
  const study::WetPlace place =
      named(study::judge_wet_places(yard.site, comparison, comparison.designs[0]), "low spot 1");
  CHECK(place.wet == study::Wet::both);
}

TEST_CASE("a hard surface is not soft, whatever stands under it") {
  SimpleYard yard = soaking_yard([](double, double) { return 0.0; });
  yard.ground.pervious.assign(yard.ground.grid.cells(), 0.0);
  yard.site.areas[0].impervious = true;
  yard.site.soils[0].perched_start = 0.29;
  yard.site.storm.blocks = {{600, 1e-7}};
  const results::Comparison comparison = study::compare(yard.site, yard.ground, {});
  const study::WetPlace place =
      named(study::judge_wet_places(yard.site, comparison, comparison.designs[0]), "lawn");
  CHECK(place.wet == study::Wet::no);
  CHECK(place.fixes.empty());
}

TEST_CASE("what is less than a square foot does not keep a low spot wet to the end of the run") {
  site::Site site;
  results::Comparison comparison;
  comparison.grid.cell = 0.05;
  comparison.low_spots.resize(1);
  comparison.low_spots[0].id = 1;
  results::DesignRecord record;
  record.time = {0, 40 * 3600.0};
  for (int cell = 0; cell < 60; ++cell) { // 38 of them are a square foot
    comparison.low_spots[0].cells.push_back(cell);
    const double hours = cell < 30 ? 39 : 3;
    record.standing_hours.push_back(hours);
    record.last_standing.push_back((hours + 1) * 3600); // after an hour of rain
    record.soggy_hours.push_back(0);
  }
  const auto judged = [&] { return study::judge_wet_places(site, comparison, record).at(0); };
  CHECK(judged().puddle_hours == 3);
  CHECK_FALSE(judged().still);
  for (int cell = 0; cell < 38; ++cell)
    record.standing_hours[cell] = 39, record.last_standing[cell] = 40 * 3600;
  CHECK(judged().puddle_hours == 39);
  CHECK(judged().still);
}

TEST_CASE("the words fit the hours, and the units are those of the yard") {
  site::Site site;
  site.units = "m";
  site.areas.resize(1);
  results::DesignRecord record;
  results::AreaRecord area;
  area.name = "lawn";
  area.standing_hours_after_rain = 4;
  area.soggy_hours = 0.3;
  record.areas = {area};
  const auto judged = [&] { return study::judge_wet_places(site, {}, record).at(0); };
  CHECK(judged().finding ==
        "Surface water: a puddle stands for about 4 hours after the rain while the soil under "
        "it is not full to the top.");
  CHECK_THAT(judged().test, ContainsSubstring("150 mm") && !ContainsSubstring(" in into"));
  record.areas[0].still_standing = true; // no promise that it is gone then
  CHECK_THAT(judged().finding,
             ContainsSubstring("a puddle stands for more than about 4 hours after the rain"));
  record.areas[0].still_standing = false;
  record.areas[0].standing_hours_after_rain = 0;
  record.areas[0].soggy_hours = 60;
  CHECK_THAT(judged().finding, ContainsSubstring("within 100 mm of the ground"));
  site.units = "ft";
  CHECK_THAT(
      judged().finding,
      ContainsSubstring("within 4 in of the ground for about 60 hours on the mean over it, rain included"));
}
