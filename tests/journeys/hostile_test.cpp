// A yard whose every name is an attack, through every command that writes: nothing leaves --out, no cell is a
// formula, no markup of a name reaches a page.
#include "catch.hpp"

#include <cctype>
#include <set>
#include <unistd.h>

#include "journeys/program.hpp"

using journey::fs::path;

namespace {

const std::string markup =
    "</script><script>alert(1)</script><img src=x onerror=alert(1)>\" onload=\"alert(1)";

// A name in TOML that begins as a formula does.
std::string name(const std::string& start) {
  return "'''" + start + "1+cmd|x " + markup + "'''";
}

std::string design(const std::string& toml_name) {
  return "[[design]]\nname=" + toml_name + "\n[[design.run]]\nname=" + name("-leg") +
         "\npath=[[4,4],[12,4]]\npipe='4 in corrugated, slotted'\ntrench={width='0.3 m',depth='0.4 m'}\n"
         "fall='1 %'\nstone='No. 57, rounded, washed'\ncap={kind='open stone'}\nto=" +
         name("+out") + "\n[[design.outlet]]\nname=" + name("+out") + "\nkind='daylight'\nat=[12,4]\n";
}

path hostile_yard() {
  const path folder = journey::fresh_folder("hostile");
  journey::write(
      folder / "yard/site.toml",
      "[site]\nname=" + name("=") +
          "\nunits='m'\nrectangle=[0,0,12,8]\ncell='1 m'\n[ground]\nlevels='levels.csv'\n"
          "[[soil]]\nname=" +
          name("@soil") +
          "\ntopsoil={texture='silt loam',depth='0.2 m'}\n"
          "tight_layer={conductivity='0.5 mm/hr'}\n[[area]]\nname=" +
          name("=bed") +
          "\nkind='mulched bed'\nrectangle=[3,2,6,4]\nplants={kind='shrubs',root_depth='0.3 m'}\n"
          "[[building]]\nname=" +
          name("-house") + "\nrectangle=[0,7,4,1]\ndownspouts=[{name=" + name("@spout") +
          ",at=[2,6.5],roof='10 m2',to='ground'}]\n[[wall]]\nname=" + name("=wall") +
          "\nline=[[1,1],[1,3]]\nheight='0.1 m'\n[storm]\npattern='blocks'\nblocks=[['20 min','25 mm/hr']]\n"
          "dry='2 hr'\nmonth='May'\n[target]\nareas=[" +
          name("=bed") + "]\n[[gauge]]\nname=" + name("+gauge") + "\nat=[6,4]\n[[line]]\nname=" +
          name("=line") + "\npath=[[11,0],[11,8]]\n[takeoff]\ncurrency='=1+1'\n" +
          design("'''../../../escaped'''") + design("'''/tmp/escaped'''") + design("'''CON'''") +
          design(name("=design")) + design("'" + std::string(900, 'n') + "'") +
          "[tune]\ndesign=" + name("=design") + "\nvary={depth=['0.3 m','0.4 m']}\n");
  std::string levels = "point,x,y,elevation,note\n";
  int number = 0;
  for (int x = 0; x <= 12; x += 3)
    for (int y = 0; y <= 8; y += 2)
      levels += "@" + std::to_string(++number) + "," + std::to_string(x) + "," + std::to_string(y) + "," +
                std::to_string(10 - 0.02 * x) + ",\"=cmd|' /C calc'!A0 <script>alert(1)</script>\"\n";
  journey::write(folder / "yard/levels.csv", levels);
  journey::write(folder / "gauge.csv", "time_min,rain_mm\n0,2\n10,3\n20,0\n");
  return folder;
}

std::set<std::string> files_in(const path& folder) {
  std::set<std::string> found;
  for (const auto& entry : journey::fs::recursive_directory_iterator(folder))
    if (!entry.is_directory()) found.insert(entry.path().lexically_relative(folder).string());
  return found;
}

// Cells of a table as a spreadsheet cuts it: at commas, quotes heeded.
std::vector<std::string> cells_of(const std::string& text) {
  std::vector<std::string> cells(1);
  bool inside = false;
  for (const char letter : text)
    if (letter == '"')
      inside = !inside;
    else if (!inside && (letter == ',' || letter == '\n'))
      cells.emplace_back();
    else
      cells.back() += letter;
  return cells;
}

bool is_number(const std::string& cell) {
  char* end = nullptr;
  std::strtod(cell.c_str(), &end);
  return !cell.empty() && *end == '\0';
}

} // namespace

TEST_CASE("names that attack do no harm in any file of any command") {
  const path folder = hostile_yard(), out = folder / "out";
  const std::string yard = (folder / "yard").string(), into = out.string();
  const std::set<std::string> before = files_in(folder);
  const std::string built = "=design1+cmd|x " + markup;
  const std::vector<std::vector<std::string>> commands = {
      {"compare", yard, "--gis", "--plausible", "0"},
      {"tune", yard},
      {"storms", yard},
      {"diagnose", yard},
      {"levels", yard},
      {"cutsheet", yard, "--design", built},
      {"takeoff", yard, "--design", built},
      {"hosetest", yard, "--design", built},
      {"yearlater", yard, "--design", built, "--rain", (folder / "gauge.csv").string(), "--outlet", "ran",
       "--plausible", "0"},
  };
  for (std::vector<std::string> command : commands) {
    command.insert(command.end(), {"--out", into});
    const journey::Answer answer = journey::run(command);
    INFO(command[0] << ": " << answer.err);
    CHECK(answer.code == 0);
  }
  std::set<std::string> names;
  int pages = 0, tables = 0;
  for (const std::string& file : files_in(folder)) {
    if (before.count(file) > 0) continue;
    INFO(file);
    REQUIRE(file.rfind("out/", 0) == 0);
    const std::string text = journey::content(folder / file);
    const std::string kind = path(file).extension().string();
    if (kind == ".html") {
      ++pages;
      CHECK(text.find("<script>alert") == std::string::npos);
      CHECK(text.find("<img src=x") == std::string::npos);
      for (auto at = text.find("\" onload="); at != std::string::npos; at = text.find("\" onload=", at + 1))
        CHECK(text[at - 1] == '\\');                  // inside a text of a script
      CHECK(text.find("1+cmd") != std::string::npos); // the names are there, as text
    }
    if (kind == ".csv") {
      ++tables;
      for (const std::string& cell : cells_of(text))
        if (!cell.empty() && std::string("=+-@\t\r").find(cell[0]) != std::string::npos) {
          INFO(cell);
          CHECK(is_number(cell));
        }
    }
    if (kind == ".json") CHECK_NOTHROW(nlohmann::json::parse(text));
    if (file.find("/maps/") == std::string::npos && file.find("/gis/") == std::string::npos)
      names.insert(path(file).filename().string());
  }
  CHECK(pages >= 9);
  CHECK(tables >= 7);
  // What prepare_output_folder() takes for files of ours is what was written: another's file of such a name
  // is refused.
  for (const std::string& file : names) {
    if (file == ".lowspot") continue;
    const path other = journey::fresh_folder("others");
    journey::write(other / file, "mine");
    const journey::Answer answer = journey::run({"levels", yard, "--out", other.string()});
    INFO(file << ": " << answer.err);
    CHECK(answer.code == 2);
    CHECK(journey::content(other / file) == "mine");
  }
}

TEST_CASE("a name with a control character, or of a thousand letters and more, is refused") {
  const path folder = hostile_yard();
  std::string site = journey::content(folder / "yard/site.toml");
  const std::string old = "'''CON'''";
  for (const std::string& bad :
       {std::string("\"a\\u0000b\""), std::string("\"a\\u001b[2Jb\""), "'" + std::string(5000, 'n') + "'"}) {
    std::string text = site;
    text.replace(text.find(old), old.size(), bad);
    journey::write(folder / "yard/site.toml", text);
    const journey::Answer answer = journey::run({"check", (folder / "yard").string()});
    INFO(answer.err);
    CHECK(answer.code == 2);
    CHECK_THAT(answer.err, ContainsSubstring("design[3].name"));
    CHECK(answer.err.find('\x1b') == std::string::npos);
  }
}
