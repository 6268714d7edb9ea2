#include <lowspot/site/table_reader.hpp>

#include "sample.hpp"

using namespace lowspot;
using namespace lowspot::site;
using sample::Fixture;

TEST_CASE("quantities carry units and come out in SI") {
  Fixture f("a = \"3 in\"\nb = 3\nc = \"3 in/hr\"\nd = \"-3 in\"\ne = \"0 in\"");
  CHECK(f.reader.quantity("a", Dimension::length) == Approx(0.0762));
  CHECK_THROWS_WITH(f.reader.quantity("b", Dimension::length), ContainsSubstring("3 without a unit"));
  CHECK_THROWS_WITH(f.reader.quantity("c", Dimension::length),
                    ContainsSubstring("site.toml:3: c: found \"3 in/hr\""));
  CHECK_THROWS_WITH(f.reader.quantity("c", Dimension::length), ContainsSubstring("for example c = "));
  CHECK_THROWS_WITH(f.reader.quantity("d", Dimension::length), ContainsSubstring("zero or more"));
  CHECK(f.reader.quantity("d", Dimension::length, Range::any) == Approx(-0.0762));
  CHECK(f.reader.quantity("e", Dimension::length) == 0);
  CHECK_THROWS_WITH(f.reader.quantity("e", Dimension::length, Range::positive),
                    ContainsSubstring("above zero"));
  CHECK_THROWS_WITH(f.reader.quantity("z", Dimension::length), ContainsSubstring("found nothing"));
}

TEST_CASE("a default is used and listed only where the key is absent") {
  Fixture f("a = \"3 in\"");
  CHECK(f.reader.quantity_or("a", Dimension::length, "6 in") == Approx(0.0762));
  CHECK(f.site.assumptions.empty());
  CHECK(f.reader.quantity_or("b", Dimension::length, "6 in") == Approx(0.1524));
  REQUIRE(f.site.assumptions.size() == 1);
  CHECK(f.site.assumptions[0].value == "6 in");
}

TEST_CASE("bands are three values in rising order") {
  Fixture f("a = [\"1 in\", \"2 in\", \"3 in\"]\nb = \"2 in\"\nc = [\"3 in\", \"2 in\", \"1 in\"]\nd = [\"1 "
            "in\", \"2 in\"]\n"
            "e = [\"0 in\", \"1 in\", \"2 in\"]\ng = [1, 2, 3]");
  const Band band = *f.reader.maybe_band("a", Dimension::length);
  CHECK(band.low == Approx(0.0254));
  CHECK(band.likely == Approx(0.0508));
  CHECK(band.high == Approx(0.0762));
  CHECK_FALSE(f.reader.maybe_band("b", Dimension::length)->is_band());
  CHECK_THROWS_WITH(f.reader.maybe_band("c", Dimension::length), ContainsSubstring("out of order"));
  CHECK_THROWS_WITH(f.reader.maybe_band("d", Dimension::length), ContainsSubstring("a list of 2"));
  CHECK_THROWS_WITH(f.reader.maybe_band("e", Dimension::length), ContainsSubstring("above zero"));
  CHECK_THROWS_WITH(f.reader.maybe_band("g", Dimension::length), ContainsSubstring("without a unit"));
  CHECK_FALSE(f.reader.maybe_band("z", Dimension::length));
}

TEST_CASE("numbers without a dimension are bare, or a percentage") {
  Fixture f("a = 0.4\nb = \"40 %\"\nc = \"0.4\"\nd = 4\ne = nan\ng = [0.1, 0.2, 0.3]");
  CHECK(f.reader.number("a", 0, 1) == 0.4);
  CHECK(f.reader.number("b", 0, 1) == Approx(0.4));
  CHECK_THROWS_WITH(f.reader.number("c", 0, 1), ContainsSubstring("without quotes"));
  CHECK_THROWS_WITH(f.reader.number("d", 0, 1), ContainsSubstring("from 0 to 1"));
  CHECK_THROWS_AS(f.reader.number("e", 0, 1), InputError);
  CHECK(f.reader.maybe_number_band("g", 0, 1)->high == 0.3);
  CHECK(f.reader.maybe_number_band("a", 0, 1)->high == 0.4);
  CHECK_FALSE(f.reader.maybe_number("z", 0, 1));
}

TEST_CASE("elevations are bare numbers in the site's units") {
  Fixture f("a = 100\nb = \"100 ft\"\nc = inf\nd = 1e12");
  CHECK(*f.reader.maybe_elevation("a") == Approx(30.48));
  CHECK_THROWS_WITH(f.reader.maybe_elevation("b"), ContainsSubstring("bare number in ft"));
  CHECK_THROWS_AS(f.reader.maybe_elevation("c"), InputError);
  CHECK_THROWS_AS(f.reader.maybe_elevation("d"), InputError);
}

TEST_CASE("a time beyond any storm and any season is a slip") {
  Fixture f("a = \"1000 d\"\nb = \"1e9 s\"");
  CHECK(f.reader.quantity("a", Dimension::time) == 86400e3);
  CHECK_THROWS_WITH(f.reader.quantity("b", Dimension::time), ContainsSubstring("three years"));
}

TEST_CASE("a yard in metres is told usual lengths in its own units") {
  Fixture f("");
  f.site.units = "m";
  f.site.unit = 1;
  CHECK(f.reader.quantity_or("depth", Dimension::length, "18 in") == Approx(0.4572));
  CHECK(sample::assumed(f.site, "depth") == "457 mm");
}
