#include "catch.hpp"

#include <sstream>

#include "journeys/program.hpp"

namespace fs = std::filesystem;

namespace {

struct Line {
  int number = 0;
  std::string command;
};

// The lines of a page's command blocks that call the program, without their remarks.
std::vector<Line> commands_in(const fs::path& page) {
  std::vector<Line> found;
  std::istringstream text(journey::content(page));
  std::string line;
  bool inside = false;
  for (int number = 1; std::getline(text, line); ++number) {
    if (line.rfind("```", 0) == 0) inside = !inside;
    if (!inside) continue;
    if (line.rfind("build/bin/", 0) == 0) line.erase(0, 10);
    if (line.rfind("lowspot ", 0) != 0) continue;
    const std::size_t remark = line.find("   #");
    found.push_back({number, line.substr(8, remark == std::string::npos ? remark : remark - 8)});
  }
  return found;
}

} // namespace

TEST_CASE("the library's page shows the programs that are built against the installed tree") {
  const fs::path root = fs::path(LOWSPOT_SOURCE_DATA).parent_path();
  const std::string page = journey::content(root / "libsim" / "README.md");
  for (const char* name : {"soil_column.cpp", "one_drain.cpp", "plane.cpp"}) {
    const std::string program = journey::content(root / "tests" / "install" / name);
    CHECK(program.size() > 500);
    CHECK(page.find("```cpp\n" + program + "```\n") != std::string::npos);
  }
}

TEST_CASE("every command that the pages show works as it is written, one after the other") {
  const fs::path root = fs::path(LOWSPOT_SOURCE_DATA).parent_path();
  for (const fs::path& page : {root / "README.md", root / "data" / "README.md"}) {
    const fs::path folder = journey::fresh_folder("docs");
    const std::vector<Line> lines = commands_in(page);
    CHECK(lines.size() >= 5);
    for (const Line& line : lines) {
      std::string command = line.command;
      // The pages run at the cell size that is built on; here the same commands run at a quick one.
      const std::string first = command.substr(0, command.find(' '));
      const bool runs_storms = first == "diagnose" || first == "compare" || first == "tune" ||
                               first == "storms" || first == "hosetest" || first == "remedies";
      const std::size_t cell = command.find("--cell");
      if (cell != std::string::npos)
        command.erase(cell, command.find('"', command.find('"', cell) + 1) + 1 - cell);
      if (runs_storms) command += " --cell \"4 ft\"";
      const std::string shell = "cd " + journey::quoted(folder.string()) + " && " +
                                journey::quoted(LOWSPOT_PROGRAM) + " " + command + " >said 2>&1";
      const int status = std::system(shell.c_str());
      INFO(page.string() << ":" << line.number << ": lowspot " << command << "\n"
                         << journey::content(folder / "said"));
      CHECK(WIFEXITED(status));
      CHECK(WEXITSTATUS(status) == 0);
    }
  }
}
