#include "catch.hpp"

#include <csignal>
#include <random>
#include <sys/wait.h>
#include <unistd.h>

#include "journeys/program.hpp"

namespace fs = std::filesystem;

namespace {

// A yard of a few cells, so that a run takes a moment and most of it is writing.
void small_yard(const fs::path& folder, const std::string& depth) {
  journey::write(folder / "site.toml",
                 "[site]\nname = \"small\"\nunits = \"m\"\noutline = [[0, 0], [4, 0], "
                 "[4, 3], [0, 3]]\ncell = \"0.5 m\"\n[ground]\nlevels = "
                 "\"levels.csv\"\n[storm]\ndepth = \"" +
                     depth +
                     "\"\nduration = \"10 min\"\ndry = \"10 min\"\n[target]\nclear_within = \"5 min\"\n");
  journey::write(folder / "levels.csv", "x,y,elevation\n0,0,1\n4,0,1.1\n4,3,1.1\n0,3,1\n");
}

double rain_in(const fs::path& summary) {
  return journey::json_file(summary)["storm"]["depth_m"];
}

} // namespace

TEST_CASE(
    "compare killed at any moment leaves the old results, the new ones, or a note that they are mixed") {
  const fs::path folder = journey::fresh_folder("killed");
  const fs::path out = folder / "out";
  small_yard(folder / "old", "10 mm");
  small_yard(folder / "new", "20 mm");
  REQUIRE(journey::run({"compare", (folder / "old").string(), "--out", out.string()}).code == 0);
  const double old_rain = rain_in(out / "summary.json");
  const bool can_look = std::system("command -v gdalinfo >/dev/null 2>&1") == 0;
  const std::string look = "gdalinfo -checksum " +
                           journey::quoted("NETCDF:" + (out / "results.nc").string() + ":ground_elevation") +
                           " >/dev/null 2>&1";
  std::mt19937 random(11);
  const char* const asked = std::getenv("LOWSPOT_KILLS"); // more than the usual ones, by hand
  const int trials = asked != nullptr ? std::atoi(asked) : 25;
  int killed = 0, old_left = 0, new_left = 0, mixed = 0;
  for (int trial = 0; trial < trials; ++trial) {
    const pid_t child = fork();
    REQUIRE(child >= 0);
    if (child == 0) {
      if (freopen("/dev/null", "w", stdout) == nullptr || freopen("/dev/null", "w", stderr) == nullptr)
        _exit(9);
      execl(LOWSPOT_PROGRAM, "lowspot", "compare", (folder / "new").c_str(), "--out", out.c_str(), nullptr);
      _exit(9);
    }
    usleep(std::uniform_int_distribution<int>(0, 900000)(random));
    kill(child, SIGKILL);
    int status = 0;
    waitpid(child, &status, 0);
    killed += WIFSIGNALED(status) ? 1 : 0;
    INFO("trial " << trial);
    REQUIRE(fs::exists(out / "report.html"));
    if (fs::exists(out / "UNFINISHED.txt")) {
      ++mixed;
      continue;
    }
    const double rain = rain_in(out / "summary.json");
    CHECK((rain == old_rain || rain == Approx(0.02)));
    ++(rain == old_rain ? old_left : new_left);
    CHECK(journey::content(out / "report.html").find("</html>") != std::string::npos);
    if (can_look) CHECK(std::system(look.c_str()) == 0);
  }
  CHECK(killed > 0);
  if (asked != nullptr)
    WARN(killed << " of " << trials << " killed; left: old results " << old_left << " times, new ones "
                << new_left << " times, a note that they are mixed " << mixed << " times");
  // The next run mends whatever was left.
  REQUIRE(journey::run({"compare", (folder / "new").string(), "--out", out.string()}).code == 0);
  CHECK(rain_in(out / "summary.json") == Approx(0.02));
  CHECK_FALSE(fs::exists(out / "UNFINISHED.txt"));
  CHECK_FALSE(fs::exists(out / ".unfinished"));
}

TEST_CASE("a disk that is full is said, and the old results stay whole") {
  const fs::path folder = journey::fresh_folder("full");
  const fs::path out = folder / "out";
  small_yard(folder / "old", "10 mm");
  small_yard(folder / "new", "20 mm");
  REQUIRE(journey::run({"compare", (folder / "old").string(), "--out", out.string()}).code == 0);
  const double old_rain = rain_in(out / "summary.json");
  // No file may grow beyond so many kB: a write then fails as on a full disk, early or late in the file of
  // results.
  int refused = 0;
  for (const char* kilobytes : {"1", "4", "16", "32", "48", "64", "80"}) {
    CAPTURE(kilobytes);
    const std::string script = std::string("trap \"\" XFSZ; ulimit -f ") + kilobytes + "; exec " +
                               journey::quoted(LOWSPOT_PROGRAM) + " compare " +
                               journey::quoted((folder / "new").string()) + " --out " +
                               journey::quoted((folder / "to").string()) + " 2>" +
                               journey::quoted((folder / "err").string()) + " >/dev/null";
    fs::remove_all(folder / "to");
    fs::copy(out, folder / "to", fs::copy_options::recursive);
    const int status = std::system(("bash -c " + journey::quoted(script)).c_str());
    REQUIRE(WIFEXITED(status));
    if (WEXITSTATUS(status) == 0) break;
    ++refused;
    CHECK(WEXITSTATUS(status) == 2);
    // What is printed is the refusal alone: nothing of the libraries that could not write.
    const std::string said = journey::content(folder / "err");
    CHECK(said.rfind("error:", 0) == 0);
    CHECK_THAT(said, ContainsSubstring("cannot be written"));
    CHECK(std::count(said.begin(), said.end(), '\n') == 2);
    CHECK(rain_in(folder / "to" / "summary.json") == old_rain);
    CHECK_FALSE(fs::exists(folder / "to" / ".unfinished"));
    CHECK_FALSE(fs::exists(folder / "to" / "UNFINISHED.txt"));
  }
  CHECK(refused >= 4);
}

TEST_CASE("an answer that cannot be printed is a fault, not a success") {
  const int status =
      std::system((journey::quoted(LOWSPOT_PROGRAM) + " catalog pipes >/dev/full 2>/dev/null").c_str());
  CHECK(WIFEXITED(status));
  CHECK(WEXITSTATUS(status) == 1);
}
