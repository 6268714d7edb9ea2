#include <lowspot/gis/drawing_text.hpp>

#include "catch.hpp"

#include <fstream>
#include <unistd.h>

#include <lowspot/base/error.hpp>
#include <lowspot/gis/shapes.hpp>

using namespace lowspot;

namespace {
struct Drawing {
  explicit Drawing(const std::string& text)
      : path(std::filesystem::temp_directory_path() / ("lowspot_" + std::to_string(getpid()) + "_text.dxf")) {
    std::ofstream(path, std::ios::binary) << text;
  }
  Drawing(const Drawing&) = delete;
  Drawing& operator=(const Drawing&) = delete;
  ~Drawing() { std::filesystem::remove(path); }
  std::filesystem::path path;
};
const std::string plan = "  0\nSECTION\n  2\nENTITIES\n  0\nLWPOLYLINE\n  8\nPATIO\n 90\n4\n 70\n1\n 10\n0\n "
                         "20\n0\n 10\n4\n 20\n0\n"
                         " 10\n4\n 20\n3\n  0\nENDSEC\n  0\nEOF\n";
} // namespace

TEST_CASE("a drawing that breaks off is refused at every place, and no reader goes round for ever") {
  for (std::size_t length = 0; length < plan.find("EOF") + 2; ++length) {
    INFO(length);
    const Drawing cut(plan.substr(0, length));
    CHECK_THROWS_AS(gis::check_drawing_text(cut.path), InputError);
    CHECK_THROWS_AS(gis::read_outline(cut.path, "", ""), InputError);
  }
  CHECK_THROWS_WITH(gis::check_drawing_text(Drawing("  0\nSECTION\n  2\nENTITIES\n").path),
                    ContainsSubstring("text.dxf:5: found the end of the file"));
}

TEST_CASE("a drawing under the name of another format, with a brace in it, is no way around") {
  const auto path =
      std::filesystem::temp_directory_path() / ("lowspot_" + std::to_string(getpid()) + "_text.geojson");
  std::ofstream(path, std::ios::binary) << plan.substr(0, plan.find("90\n")) << " 8\nPa{{\n 10\n0.0";
  CHECK_THROWS_AS(gis::read_outline(path, "", ""), InputError);
  std::filesystem::remove(path);
}

// The plan with other ends of its lines.
static std::string with_ends(const std::string& end) {
  std::string text;
  for (const char sign : plan) text += sign == '\n' ? end : std::string(1, sign);
  return text;
}

TEST_CASE("whole drawings pass, however their lines end") {
  CHECK_NOTHROW(gis::check_drawing_text(Drawing(plan).path));
  CHECK_NOTHROW(gis::check_drawing_text(Drawing("\xEF\xBB\xBF" + plan + "\n\n").path));
  CHECK_NOTHROW(gis::check_drawing_text(Drawing(plan.substr(0, plan.size() - 1)).path));
  CHECK_NOTHROW(gis::check_drawing_text(Drawing(with_ends("\r\n")).path));
  CHECK_NOTHROW(gis::check_drawing_text(Drawing("999\nany words\n 0\nEOF\n").path));
}

TEST_CASE("what is no group code, and bytes that are no text, are refused with their line") {
  CHECK_THROWS_WITH(gis::check_drawing_text(Drawing("  0\nSECTION\n1/2\nENTITIES\n  0\nEOF\n").path),
                    ContainsSubstring("text.dxf:3: found \"1/2\""));
  CHECK_THROWS_WITH(gis::check_drawing_text(Drawing(std::string("  0\nSEC\0ION\n  0\nEOF\n", 20)).path),
                    ContainsSubstring("text.dxf:2: found a byte 0"));
  CHECK_THROWS_AS(gis::check_drawing_text(Drawing(" -\nx\n 0\nEOF\n").path), InputError);
  CHECK_THROWS_AS(gis::check_drawing_text("/nowhere/plan.dxf"), InputError);
}

TEST_CASE(
    "a drawing whose last line ends in a carriage return alone is refused, which the library never ends") {
  CHECK_THROWS_WITH(gis::check_drawing_text(Drawing(with_ends("\r")).path),
                    ContainsSubstring("carriage return alone") && ContainsSubstring("save the drawing anew"));
  CHECK_THROWS_AS(gis::read_outline(Drawing(plan.substr(0, plan.size() - 1) + "\r").path, "", ""),
                  InputError);
}
