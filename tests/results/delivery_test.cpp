#include "catch.hpp"

#include <csignal>
#include <fstream>
#include <iterator>
#include <random>
#include <set>
#include <sys/wait.h>
#include <unistd.h>

#include <lowspot/base/error.hpp>
#include <lowspot/results/delivery.hpp>
#include <lowspot/results/output_folder.hpp>

#include "results/scratch_folder.hpp"

using namespace lowspot;
using namespace lowspot::results;
namespace fs = std::filesystem;

namespace {

std::string content(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

const std::vector<std::string> names{"a.json", "maps/b.png", "maps/c.png", "report.html"};

// Twenty sets of the same names, one after the other.
void write_sets(const fs::path& folder) {
  for (int set = 0; set < 20; ++set) {
    Delivery delivery(folder);
    fs::create_directories(delivery.staging() / "maps");
    for (const std::string& name : names)
      write_whole_file(delivery.staging() / name, std::string(20000, static_cast<char>('a' + set)));
    delivery.deliver();
  }
}

} // namespace

TEST_CASE("a delivery replaces its own files and leaves others alone") {
  const ScratchFolder scratch;
  write_whole_file(scratch.path / "mine.txt", "kept");
  write_sets(scratch.path);
  for (const std::string& name : names) CHECK(content(scratch.path / name) == std::string(20000, 't'));
  CHECK(content(scratch.path / "mine.txt") == "kept");
  CHECK_FALSE(fs::exists(scratch.path / unfinished_note));
  CHECK_FALSE(fs::exists(scratch.path / ".unfinished"));
}

TEST_CASE("what was staged and not delivered leaves the older files whole") {
  const ScratchFolder scratch;
  write_whole_file(scratch.path / "a.json", "old");
  {
    const Delivery delivery(scratch.path);
    write_whole_file(delivery.staging() / "a.json", "new");
  }
  CHECK(content(scratch.path / "a.json") == "old");
  CHECK_FALSE(fs::exists(scratch.path / ".unfinished"));
}

TEST_CASE("killed at any moment, files are of one run or the folder says that they are not") {
  std::mt19937 random(7);
  int of_one = 0;
  for (int trial = 0; trial < 100; ++trial) {
    const ScratchFolder scratch;
    const pid_t child = fork();
    REQUIRE(child >= 0);
    if (child == 0) {
      write_sets(scratch.path);
      _exit(0);
    }
    usleep(std::uniform_int_distribution<int>(0, 15000)(random));
    kill(child, SIGKILL);
    int status = 0;
    waitpid(child, &status, 0);
    std::set<char> runs;
    std::size_t present = 0;
    for (const std::string& name : names) {
      if (!fs::exists(scratch.path / name)) continue;
      const std::string text = content(scratch.path / name);
      INFO("trial " << trial << ", " << name);
      CHECK(text == std::string(20000, text.empty() ? 'a' : text[0])); // each file whole
      runs.insert(text.empty() ? '?' : text[0]);
      ++present;
    }
    if (fs::exists(scratch.path / unfinished_note)) continue;
    CHECK(runs.size() <= 1);
    CHECK((present == 0 || present == names.size()));
    ++of_one;
  }
  CHECK(of_one > 0);
}

TEST_CASE("a folder that cannot be made is refused") {
  const ScratchFolder scratch;
  write_whole_file(scratch.path / "file", "x");
  CHECK_THROWS_AS(Delivery(scratch.path / "file"), InputError);
}

TEST_CASE("what an older run left is taken away when the note is there, before anything is moved") {
  const ScratchFolder scratch;
  write_whole_file(scratch.path / "a.json", "old");
  write_whole_file(scratch.path / "stale.html", "old");
  Delivery delivery(scratch.path);
  write_whole_file(delivery.staging() / "a.json", "new");
  bool noted = false, older = false;
  delivery.deliver([&](const fs::path& folder) {
    noted = fs::exists(folder / unfinished_note);
    older = content(folder / "a.json") == "old";
    fs::remove(folder / "stale.html");
  });
  CHECK(noted);
  CHECK(older);
  CHECK(content(scratch.path / "a.json") == "new");
  CHECK_FALSE(fs::exists(scratch.path / "stale.html"));
  CHECK_FALSE(fs::exists(scratch.path / unfinished_note));
}
