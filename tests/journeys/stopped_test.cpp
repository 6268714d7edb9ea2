// Ctrl-C and the request to end, at any moment of any long command: a clean end that keeps what is done.
#include "catch.hpp"

#include <chrono>
#include <csignal>
#include <fcntl.h>
#include <iterator>
#include <sstream>
#include <sys/stat.h>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

#include "journeys/program.hpp"

using journey::fs::path;

namespace {

// Takes some seconds a run; the second design takes several times as long as the first.
path slow_yard(const std::string& cell) {
  const path folder = journey::fresh_folder("slow");
  std::string site =
      "[site]\nname='Slow'\nunits='m'\nrectangle=[0,0,24,16]\ncell='" + cell +
      "'\n[ground]\nlevels='levels.csv'\n"
      "[[area]]\nname='bed'\nkind='mulched bed'\nrectangle=[6,4,12,8]\nplants={kind='shrubs',root_depth='0.3 "
      "m'}\n"
      "[[soil]]\nname='s'\ntopsoil={texture='silt loam',depth='0.2 m'}\ntight_layer={conductivity='0.5 "
      "mm/hr'}\n"
      "[storm]\npattern='blocks'\nblocks=[['2 hr','25 mm/hr']]\ndry='5 "
      "d'\nmonth='May'\n[target]\nareas=['bed']\n";
  for (const char* name : {"first", "second"})
    site += std::string("[[design]]\nname='") + name +
            "'\n[[design.run]]\nname='leg'\npath=[[8,8],[24,8]]\npipe='4 in corrugated, slotted'\n"
            "trench={width='0.3 m',depth='0.4 m'}\nfall='1 %'\nstone='No. 57, rounded, washed'\n"
            "cap={kind='open stone'}\nto='out'\n[[design.outlet]]\nname='out'\nkind='daylight'\nat=[24,8]\n";
  journey::write(folder / "site.toml", site + "[tune]\ndesign='first'\nvary={depth=['0.3 m','0.4 m']}\n");
  std::string levels = "x,y,elevation\n";
  for (int x = 0; x <= 24; x += 2)
    for (int y = 0; y <= 16; y += 2)
      levels += std::to_string(x) + "," + std::to_string(y) + "," +
                std::to_string(10 - 0.01 * x - (std::hypot(x - 12.0, y - 8.0) < 4 ? 0.1 : 0)) + "\n";
  journey::write(folder / "levels.csv", levels);
  journey::write(folder / "gauge.csv", "time_min,rain_mm\n0,20\n30,20\n60,0\n");
  return folder;
}

// Starts the program, sends it a signal after a while and returns its answer.
journey::Answer stopped_after(std::vector<std::string> arguments, int milliseconds, int signal) {
  const path said = journey::fresh_folder("stopped");
  arguments.insert(arguments.begin(), "lowspot");
  const pid_t child = fork();
  if (child == 0) {
    dup2(open("/dev/null", O_RDONLY), 0);
    dup2(open((said / "out").c_str(), O_WRONLY | O_CREAT, 0600), 1);
    dup2(open((said / "err").c_str(), O_WRONLY | O_CREAT, 0600), 2);
    std::vector<char*> words;
    for (std::string& argument : arguments) words.push_back(argument.data());
    words.push_back(nullptr);
    execv(LOWSPOT_PROGRAM, words.data());
    _exit(127);
  }
  REQUIRE(child > 0);
  std::this_thread::sleep_for(std::chrono::milliseconds(milliseconds));
  kill(child, signal);
  int status = 0;
  waitpid(child, &status, 0);
  return {WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status), journey::content(said / "out"),
          journey::content(said / "err")};
}

} // namespace

TEST_CASE("a stop ends every long command cleanly, whenever it comes") {
  const path folder = slow_yard("0.25 m");
  const std::string yard = folder.string();
  // A program that is not there yet is ended by the system. How long it takes to be there is tried first.
  const auto before = std::chrono::steady_clock::now();
  REQUIRE(journey::run({"check", yard}).code == 0);
  const int start = static_cast<int>(
      std::chrono::duration_cast<std::chrono::milliseconds>(std::chrono::steady_clock::now() - before)
          .count());
  int stops = 0;
  const std::vector<std::vector<std::string>> commands = {
      {"compare", yard, "--plausible", "0"},
      {"tune", yard},
      {"storms", yard, "--method", "dynamic"},
      {"diagnose", yard},
      {"hosetest", yard, "--design", "first", "--for", "10 hr"},
      {"yearlater", yard, "--design", "first", "--rain", (folder / "gauge.csv").string(), "--outlet", "ran"},
      {"remedies", yard, "--design", "first"}};
  for (const std::vector<std::string>& command : commands)
    for (const auto& [wait, signal] :
         std::vector<std::pair<int, int>>{{start + 200, SIGINT}, {2 * start + 600, SIGTERM}}) {
      std::vector<std::string> arguments = command;
      const path out = folder / ("out_" + command[0]);
      arguments.insert(arguments.end(), {"--out", out.string()});
      const journey::Answer answer = stopped_after(arguments, wait, signal);
      INFO(command[0] << " after " << wait << " ms: " << answer.code << " " << answer.err << answer.out);
      const bool done = answer.code == 0;
      const bool early = answer.code == 128 + signal && answer.err.empty() && !journey::fs::exists(out);
      if (done || early) continue;
      ++stops;
      CHECK(answer.code == 130);
      CHECK((answer.err + answer.out).find("Stopped by you") != std::string::npos);
      CHECK_FALSE(journey::fs::exists(out / "UNFINISHED.txt"));
      CHECK_FALSE(journey::fs::exists(out / ".unfinished"));
      if (journey::fs::exists(out / "summary.json")) CHECK_NOTHROW(journey::json_file(out / "summary.json"));
      CHECK(journey::fs::exists(out / "summary.json") == journey::fs::exists(out / "report.html"));
      for (const char* kept : {"remedies.json", "yearlater.json", "diagnosis.json"})
        if (journey::fs::exists(out / kept)) CHECK_NOTHROW(journey::json_file(out / kept));
    }
  CHECK(stops > 3);
}

// A site file that never ends, as from a pipe that nobody writes to.
TEST_CASE("a stop ends what keeps nothing at once, also while it reads") {
  const path folder = journey::fresh_folder("endless");
  REQUIRE(mkfifo((folder / "site.toml").c_str(), 0600) == 0);
  const int held = open((folder / "site.toml").c_str(), O_RDWR); // so that the reader waits
  REQUIRE(held >= 0);
  for (const int signal : {SIGINT, SIGTERM}) {
    const journey::Answer answer = stopped_after({"check", folder.string()}, 1500, signal);
    INFO(answer.out << answer.err);
    CHECK(answer.code == 130);
    CHECK_THAT(answer.err, ContainsSubstring("Stopped by you"));
  }
  close(held);
}

TEST_CASE("a comparison stopped between two designs is written as far as it came, and says so") {
  const path folder = slow_yard("0.5 m"), out = folder / "out";
  // The moment is found by trying: some stops come before the first design is finished, some too late.
  bool partial = false;
  for (int wait = 400; wait < 20000 && !partial; wait += wait / 3) {
    const journey::Answer answer = stopped_after(
        {"compare", folder.string(), "--out", out.string(), "--plausible", "0", "--threads", "1"}, wait,
        SIGINT);
    INFO(wait << " ms: " << answer.err);
    if (answer.code == 0) break;
    REQUIRE(answer.code == 130);
    if (!journey::fs::exists(out / "summary.json")) continue;
    partial = true;
    const auto summary = journey::json_file(out / "summary.json");
    CHECK(summary["designs"].size() == 2);
    const std::string stop = "Stopped by you after 1 of 2 designs; not run to the end: \"second\".";
    CHECK(summary["verdict"]["sentence"].get<std::string>().rfind(stop, 0) == 0);
    CHECK(summary["warnings"][0] == stop);
    CHECK_THAT(journey::content(out / "report.html"),
               ContainsSubstring("Stopped by you after 1 of 2 designs"));
  }
  if (!partial) WARN("no stop came between two designs; tests/study/compare_test.cpp stops there for sure");
}

TEST_CASE("whoever reads the answer may leave early, and a full disk is not a crash") {
  const path folder = slow_yard("1 m");
  const std::string program = journey::quoted(LOWSPOT_PROGRAM), yard = journey::quoted(folder.string());
  const auto shell = [](const std::string& script) {
    const int status = std::system(("bash -c " + journey::quoted(script)).c_str());
    return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
  };
  for (const std::string& command :
       std::vector<std::string>{std::string("catalog pipes"), "levels " + yard + " --json",
                                "diagnose " + yard + " --ground-only --json"}) {
    INFO(command);
    CHECK(shell(program + " " + command + " | head -c 1 >/dev/null; exit ${PIPESTATUS[0]}") == 0);
    CHECK(shell(program + " " + command + " >/dev/full 2>/dev/null") == 1);
    CHECK(shell(program + " " + command + " 2>/dev/full >/dev/null") == 0);
  }
}

TEST_CASE("a stop ends all processes that share a comparison, and none hangs") {
  if (std::system("command -v mpirun >/dev/null 2>&1") != 0) {
    WARN("mpirun is not installed: not tried");
    return;
  }
  const path folder = slow_yard("0.25 m"), out = folder / "out";
  const pid_t child = fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    for (int stream : {1, 2}) dup2(open("/dev/null", O_WRONLY), stream);
    execlp("mpirun", "mpirun", "-n", "2", "--allow-run-as-root", "--oversubscribe", LOWSPOT_PROGRAM,
           "compare", folder.c_str(), "--out", out.c_str(), nullptr);
    _exit(127);
  }
  // The signal goes to each of them, as from a terminal; there are two once they have begun.
  const path list = "/proc/" + std::to_string(child) + "/task/" + std::to_string(child) + "/children";
  std::vector<pid_t> processes;
  int status = 0;
  for (int tenths = 0; tenths < 300 && processes.size() < 2 && waitpid(child, &status, WNOHANG) == 0;
       ++tenths) {
    std::this_thread::sleep_for(std::chrono::milliseconds(100));
    std::istringstream words(journey::content(list));
    processes.assign(std::istream_iterator<pid_t>(words), {});
  }
  if (processes.size() < 2) {
    kill(child, SIGKILL);
    waitpid(child, &status, 0);
    WARN("mpirun starts no two processes here: not tried");
    return;
  }
  std::this_thread::sleep_for(std::chrono::milliseconds(1500));
  for (const pid_t process : processes) kill(process, SIGINT);
  bool ended = false;
  for (int tenths = 0; tenths < 600 && !ended; ++tenths) {
    ended = waitpid(child, &status, WNOHANG) == child;
    if (!ended) std::this_thread::sleep_for(std::chrono::milliseconds(100));
  }
  if (!ended) {
    kill(child, SIGKILL);
    waitpid(child, &status, 0);
  }
  REQUIRE(ended);
  CHECK(WIFEXITED(status));
  CHECK(WEXITSTATUS(status) == 130);
  CHECK_FALSE(journey::fs::exists(out / "UNFINISHED.txt"));
  CHECK(journey::fs::exists(out / "summary.json") == journey::fs::exists(out / "report.html"));
}
