// What people read on a terminal of 80 columns, in words without colour.
#include "catch.hpp"

#include <algorithm>
#include <sstream>
#include <unistd.h>

#include "journeys/program.hpp"

using journey::fs::path;

namespace {

// Letters of the longest line, and the line.
std::pair<std::size_t, std::string> longest(const std::string& text) {
  std::istringstream lines(text);
  std::string line, most;
  std::size_t letters = 0;
  while (std::getline(lines, line)) {
    // A path of a file is written whole, so that it can be copied.
    if (line.find(journey::fs::temp_directory_path().string()) != std::string::npos) continue;
    const auto count = static_cast<std::size_t>(std::count_if(line.begin(), line.end(), [](char byte) {
      return (static_cast<unsigned char>(byte) & 0xc0) != 0x80;
    }));
    if (count > letters) letters = count, most = line;
  }
  return {letters, most};
}

} // namespace

TEST_CASE("no command writes beyond the width of the terminal or in colour where none is wanted") {
  const path out = journey::fresh_folder("narrow");
  const std::string yard = LOWSPOT_SOURCE_DATA "/demo", design = "3 in under open stone";
  const std::vector<std::vector<std::string>> commands = {
      {"check", yard},
      {"levels", yard},
      {"diagnose", yard, "--ground-only"},
      {"compare", yard, "--cell", "4 ft", "--plausible", "0", "--out", (out / "compare").string()},
      {"tune", yard, "--cell", "4 ft", "--out", (out / "tune").string()},
      {"storms", yard, "--cell", "4 ft"},
      {"remedies", yard, "--cell", "4 ft", "--design", design},
      {"hosetest", yard, "--cell", "2 ft", "--design", design},
      {"cutsheet", yard, "--hi", "104.32", "--design", design},
      {"takeoff", yard, "--design", design},
      {"catalog"},
      {"start", (out / "new").string()}};
  for (const auto& command : commands) {
    const journey::Answer answer = journey::run(command, "COLUMNS=80 NO_COLOR=1");
    INFO(command[0] << ": " << answer.err);
    CHECK(answer.code == 0);
    for (const std::string& text : {answer.out, answer.err}) {
      const auto [letters, line] = longest(text);
      INFO(line);
      CHECK(letters <= 80);
      CHECK(text.find('\x1b') == std::string::npos);
    }
  }
}
