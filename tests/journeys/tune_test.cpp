// `lowspot tune` as a user runs it: the answer, its files, and a study that is killed in the middle.
#include <csignal>
#include <fcntl.h>
#include <unistd.h>

#include <chrono>
#include <thread>

#include "catch.hpp"

#include "journeys/program.hpp"

using namespace journey;

namespace {

// A dished lawn of 8 by 5 m on tight soil with a drain across it; six combinations.
std::string yard(const std::string& more = "") {
  return R"toml([site]
name = "dish"
units = "m"
outline = [[0, 0], [8, 0], [8, 5], [0, 5]]
cell = "250 mm"
[ground]
levels = "levels.csv"
[edges]
default = "wall"
east = "open"
[[soil]]
name = "tight"
topsoil = { texture = "silt loam", depth = "200 mm", conductivity = "1 mm/hr" }
tight_layer = { conductivity = "0.05 mm/hr" }
start = "moist"
[[area]]
name = "lawn"
kind = "lawn"
rectangle = [0, 0, 8, 5]
[storm]
blocks = [["30 min", "40 mm/hr"]]
dry = "12 hr"
reference_et = "0 mm/d"
[target]
standing_depth = "6 mm"
clear_within = "2 hr"
areas = ["lawn"]
[[design]]
name = "across"
[[design.run]]
name = "leg"
path = [[1.5, 2.5], [8, 2.5]]
pipe = "3 in corrugated, slotted"
trench = { width = "250 mm", depth = "450 mm" }
fall = "1 %"
cap = "open stone"
to = "ditch"
[[design.outlet]]
name = "ditch"
kind = "daylight"
at = [8, 2.5]
[tune]
limits = { cover = "50 mm" }
vary = { width = ["200 mm", "300 mm", "400 mm"], cap = ["sod", "open stone"] }
)toml" + more;
}

fs::path folder_with(const std::string& name, const std::string& text) {
  const fs::path folder = fresh_folder(name);
  write(folder / "site.toml", text);
  std::string levels = "x,y,elevation\n";
  for (int i = 0; i <= 8; ++i)
    for (int j = 0; j <= 5; ++j)
      levels += std::to_string(i) + "," + std::to_string(j) + "," +
                std::to_string(10 + 0.004 * ((i - 4) * (i - 4) + (j - 2.5) * (j - 2.5))) + "\n";
  write(folder / "levels.csv", levels);
  return folder;
}

std::size_t lines_of(const fs::path& file) {
  const std::string text = content(file);
  return static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
}

// The answer without what counts the runs of this start.
nlohmann::json answer_in(const fs::path& out) {
  nlohmann::json json = json_file(out / "tune.json");
  json.erase("runs");
  return json;
}

// Starts the program in a process of its own and kills it when the journal has grown to `lines`.
void start_and_kill(const fs::path& site, const fs::path& out, std::size_t lines) {
  const pid_t child = fork();
  if (child == 0) {
    const int nowhere = open("/dev/null", O_RDWR);
    for (const int stream : {0, 1, 2}) dup2(nowhere, stream);
    execl(LOWSPOT_PROGRAM, "lowspot", "tune", site.c_str(), "--out", out.c_str(), "--threads", "1",
          static_cast<char*>(nullptr));
    _exit(127);
  }
  REQUIRE(child > 0);
  int status = 0;
  for (int wait = 0; wait < 6000 && lines_of(out / "tune.journal") < lines; ++wait) {
    if (waitpid(child, &status, WNOHANG) == child) FAIL("it ended before it could be killed");
    std::this_thread::sleep_for(std::chrono::milliseconds(10));
  }
  kill(child, SIGKILL);
  waitpid(child, &status, 0);
  CHECK(WIFSIGNALED(status));
}

} // namespace

TEST_CASE("tune names the smallest that does it and writes page, table and figures") {
  const fs::path folder = folder_with("tune", yard());
  const fs::path out = folder / "results";
  const Answer answer = run({"tune", folder.string(), "--out", out.string()});
  INFO(answer.err);
  REQUIRE(answer.code == 0);
  CHECK_THAT(answer.out, ContainsSubstring("plausible soils"));
  CHECK_THAT(answer.out, ContainsSubstring("The smallest that does it is '200 mm wide; open stone'") &&
                             ContainsSubstring("Nothing smaller was to be tried") &&
                             ContainsSubstring("tune.html"));
  const nlohmann::json json = json_file(out / "tune.json");
  CHECK(json["smallest"] == "200 mm wide; open stone");
  CHECK(json["combinations"].size() == 6);
  CHECK(json["quick_look"]["cases"].get<int>() >= 3);
  CHECK_THAT(content(out / "tune.html"), ContainsSubstring("<svg"));
  CHECK(lines_of(out / "tune.csv") == 7);
  // Everything in full comes to the same.
  const Answer full =
      run({"tune", folder.string(), "--out", (folder / "full").string(), "--all-in-full", "--json"});
  REQUIRE(full.code == 0);
  CHECK(nlohmann::json::parse(full.out)["smallest"] == json["smallest"]);
}

TEST_CASE("killed in the middle, it goes on where it stopped; a changed yard starts anew") {
  const fs::path folder = folder_with("tune-killed", yard());
  const fs::path whole = folder / "whole", killed = folder / "killed";
  REQUIRE(run({"tune", folder.string(), "--out", whole.string()}).code == 0);
  start_and_kill(folder, killed, 4);
  CHECK_FALSE(fs::exists(killed / "tune.json"));
  const Answer rest = run({"tune", folder.string(), "--out", killed.string()});
  REQUIRE(rest.code == 0);
  CHECK_THAT(rest.err, ContainsSubstring("Going on from an earlier start"));
  CHECK(answer_in(killed) == answer_in(whole));
  const nlohmann::json runs = json_file(killed / "tune.json")["runs"];
  CHECK(runs["found"].get<int>() >= 3);
  CHECK(runs["made"].get<int>() + runs["found"].get<int>() == json_file(whole / "tune.json")["runs"]["made"]);
  write(folder / "site.toml", yard("[season]\ndry_spell = \"2 d\"\nreference_et = \"1 mm/d\"\n"));
  const Answer changed = run({"tune", folder.string(), "--out", killed.string()});
  REQUIRE(changed.code == 0);
  CHECK_THAT(changed.err, ContainsSubstring("The yard has changed since"));
  CHECK(json_file(killed / "tune.json")["runs"]["found"] == 0);
}

TEST_CASE("without [tune] it says what to write; with --strict a yard that nothing helps ends in 3") {
  std::string text = yard();
  const fs::path none = folder_with("tune-none", text.substr(0, text.find("[tune]")));
  const Answer missing = run({"tune", none.string()});
  CHECK(missing.code == 2);
  CHECK_THAT(missing.err, ContainsSubstring("vary = {"));
  const fs::path refused = folder_with("tune-refused", text);
  CHECK(run({"tune", refused.string(), "--out", (refused / "out").string(), "--cell", "wide"}).code == 2);
  CHECK_FALSE(fs::exists(refused / "out")); // what is refused leaves no folder behind
  const std::string both = "[\"sod\", \"open stone\"]";
  text.replace(text.find(both), both.size(), "[\"sod\"]");
  const fs::path hopeless = folder_with("tune-hopeless", text);
  const Answer answer = run({"tune", hopeless.string(), "--strict", "--quiet"});
  CHECK(answer.code == 3);
  CHECK_THAT(answer.out, ContainsSubstring("None of the 3 combinations does it"));
}

TEST_CASE("two processes find what one finds, write one set of files, and go on from a journal") {
  if (std::system("command -v mpirun >/dev/null 2>&1") != 0) {
    WARN("no mpirun: several processes were not tried");
    return;
  }
  const fs::path site = folder_with("tune_processes", yard());
  const auto start = [&](const std::string& before, const std::string& out) {
    const std::string command = before + " " + quoted(LOWSPOT_PROGRAM) + " tune " + quoted(site.string()) +
                                " --out " + quoted((site / out).string()) + " >/dev/null 2>&1 </dev/null";
    REQUIRE(std::system(command.c_str()) == 0);
    return answer_in(site / out);
  };
  const auto one = start("", "one");
  CHECK(start(two_processes, "two") == one);
  CHECK(lines_of(site / "two" / "tune.journal") == lines_of(site / "one" / "tune.journal"));
  start(two_processes, "one");
  CHECK(json_file(site / "one" / "tune.json").at("runs").at("made") == 0);
}
