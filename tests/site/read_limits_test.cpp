#include <lowspot/site/readers.hpp>

#include <cmath>

#include "sample.hpp"

using namespace sample;

namespace {
struct WithLimits : Fixture {
  explicit WithLimits(const std::string& text) : Fixture(text) {
    rows.limits = {
        {"pipe_cover",
         catalog::LimitKind::length,
         0.1524,
         "6 in",
         true,
         "ground over the pipe",
         {"a code", "V"}},
        {"root_radius", catalog::LimitKind::multiple, 12, "12", true, "of the trunk", {"practice", "M"}},
        {"frost_depth", catalog::LimitKind::length, NAN, "", true, "depth of frost", {"ask", "M"}}};
  }
  InputError refused() {
    try {
      site::read_limits(reader, context);
    } catch (const InputError& error) {
      return error;
    }
    FAIL("read without an error");
    return InputError({}, "", "", "");
  }
};
} // namespace

TEST_CASE("without [limits] the catalogue's figures stand") {
  WithLimits file("");
  site::read_limits(file.reader, file.context);
  REQUIRE(file.site.limits.size() == 3);
  CHECK(file.site.limits[0].value == 0.1524);
  CHECK(file.site.limits[0].from.mark == "V");
}

TEST_CASE("a town's own figures take their place, with their source") {
  WithLimits file("[limits]\nsource = \"town code 12-3\"\npipe_cover = \"12 in\"\nroot_radius = 18\n"
                  "frost_depth = \"30 in\"\n");
  site::read_limits(file.reader, file.context);
  CHECK(file.site.limits[0].value == Approx(0.3048));
  CHECK(file.site.limits[0].written == "12 in");
  CHECK(file.site.limits[0].from.source == "town code 12-3");
  CHECK(file.site.limits[0].from.mark == "town");
  CHECK(file.site.limits[1].value == 18);
  CHECK(file.site.limits[2].value == Approx(0.762));
}

TEST_CASE("limits that cannot be read") {
  const auto unknown = WithLimits("[limits]\npipe_covr = \"12 in\"\n").refused();
  CHECK_THAT(unknown.mend, ContainsSubstring("`pipe_cover`"));
  CHECK(unknown.where.line == 2);
  CHECK_THAT(WithLimits("[limits]\npipe_cover = \"12 %\"\n").refused().where.key,
             ContainsSubstring("pipe_cover"));
  CHECK_THAT(WithLimits("[limits]\npipe_cover = 12\n").refused().where.key, ContainsSubstring("pipe_cover"));
  CHECK_THAT(WithLimits("[limits]\nroot_radius = -1\n").refused().found, ContainsSubstring("negative"));
}

TEST_CASE("a limit that cannot be read is refused with an example in the yard's units") {
  WithLimits file("[limits]\npipe_cover = \"deep\"\n");
  CHECK_THAT(file.refused().expected, ContainsSubstring("\"6 in\""));
  WithLimits metric("[limits]\npipe_cover = \"deep\"\n");
  metric.site.units = "m";
  CHECK_THAT(metric.refused().expected, ContainsSubstring("\"150 mm\""));
}
