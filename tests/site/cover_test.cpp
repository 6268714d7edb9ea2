#include <lowspot/site/cover.hpp>

#include "sample.hpp"

using namespace lowspot;
using namespace lowspot::site;
using sample::Fixture;

namespace {
Area cover(Fixture& f) {
  Area area;
  read_cover(f.reader, area);
  f.reader.done();
  return area;
}
} // namespace

TEST_CASE("a kind brings its figures") {
  Fixture f("kind = \"Lawn\"");
  const Area area = cover(f);
  CHECK(area.kind == "lawn");
  CHECK(area.manning_n == 0.24);
  CHECK(area.manning_n_deep == 0.04);
  CHECK(area.vegetation_height == 0.08);
  CHECK(area.crop_coefficient == 0.95);
  CHECK_FALSE(area.impervious);
  CHECK(f.site.assumptions.empty());
}

TEST_CASE("own figures alone, and in place of a row's") {
  Fixture own("manning_n = 0.025\nimpervious = true");
  const Area area = cover(own);
  CHECK(area.kind == "own figures");
  CHECK(area.manning_n_deep == 0.025);
  CHECK(area.impervious);
  CHECK(area.depression_storage == 0);
  CHECK(sample::assumed(own.site, "depression_storage") == "0 in");
  Fixture mixed("kind = \"lawn\"\nmanning_n = 0.3\ndepression_storage = \"1 mm\"\ninterception = \"0.5 mm\"");
  const Area lawn = cover(mixed);
  CHECK(lawn.manning_n == 0.3);
  CHECK(lawn.manning_n_deep == 0.3); // a given figure holds at every depth
  CHECK(lawn.vegetation_height == 0);
  CHECK(lawn.depression_storage == Approx(0.001));
  CHECK(lawn.interception == Approx(0.0005));
  CHECK(lawn.crop_coefficient == 0.95);
}

TEST_CASE("covers that cannot be used") {
  Fixture none("impervious = true");
  CHECK_THROWS_WITH(cover(none), ContainsSubstring("a kind of cover"));
  Fixture unknown("kind = \"concret\"");
  CHECK_THROWS_WITH(cover(unknown), ContainsSubstring("Did you mean \"concrete\"?"));
  Fixture quoted("manning_n = \"0.013\"");
  CHECK_THROWS_WITH(cover(quoted), ContainsSubstring("without quotes"));
  Fixture deep("kind = \"lawn\"\ndepression_storage = \"4 in\"");
  cover(deep);
  CHECK(sample::warned(deep.site, "never runs off"));
  Fixture leaves("kind = \"lawn\"\ninterception = \"1 in\"");
  cover(leaves);
  CHECK(sample::warned(leaves.site, "1 in is more than leaves and mulch hold"));
  Fixture wood("kind = \"lawn\"\ninterception = \"0.4 in\"");
  cover(wood);
  CHECK_FALSE(sample::warned(wood.site, "leaves and mulch"));
}

TEST_CASE("plants by kind and by figures") {
  Fixture shrubs("kind = \"shrubs\"\nroot_depth = \"14 in\"");
  Area bed;
  const Plants a = read_plants(shrubs.reader, bed);
  CHECK(a.root_depth == Approx(0.3556));
  CHECK(a.crop_coefficient == 0.6);
  CHECK(a.depletion_fraction == 0.5);
  CHECK(a.wet_feet == "moderate");
  CHECK(a.hours_to_damage_high == 604800);
  CHECK(sample::assumed(shrubs.site, "crop_coefficient") == "0.6");
  Fixture own("root_depth = \"0.4 m\"\ncrop_coefficient = 1\ndepletion_fraction = 0.4\nwet_feet = \"low\"");
  const Plants b = read_plants(own.reader, bed);
  CHECK(b.depletion_fraction == 0.4);
  CHECK(b.crop_coefficient == 1);
  CHECK(own.site.assumptions.empty());
  Fixture unknown("kind = \"shrub\"");
  CHECK_THROWS_WITH(read_plants(unknown.reader, bed), ContainsSubstring("Did you mean \"shrubs\"?"));
  Fixture wrong("wet_feet = \"medium\"");
  CHECK_THROWS_WITH(read_plants(wrong.reader, bed), ContainsSubstring("\"moderate\""));
}

TEST_CASE("roots deeper than those of beds are warned of") {
  const auto with = [](const std::string& depth) {
    return sample::read(
        sample::yard("[[area]]\nname = \"bed\"\nkind = \"mulched bed\"\nrectangle = [10, 10, 20, 10]\n"
                     "plants = { kind = \"shrubs\", root_depth = \"" +
                     depth + "\" }\n"));
  };
  CHECK(sample::warned(with("14 ft"), "area[1].plants.root_depth: 14 ft is deeper"));
  CHECK(with("5 ft").warnings.empty());
}
