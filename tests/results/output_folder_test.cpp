#include "catch.hpp"

#include <csignal>
#include <fstream>
#include <iterator>

#include <sys/resource.h>

#include <lowspot/base/error.hpp>
#include <lowspot/results/output_folder.hpp>

#include "results/scratch_folder.hpp"

using namespace lowspot;
using namespace lowspot::results;

TEST_CASE("an output folder is made with its parents") {
  const ScratchFolder scratch;
  const auto folder = scratch.path / "a" / "b";
  prepare_output_folder(folder, "yard");
  CHECK(std::filesystem::is_directory(folder));
  prepare_output_folder(folder, "yard"); // and may be there already
}

TEST_CASE("results of another yard are not overwritten") {
  const ScratchFolder scratch;
  write_whole_file(scratch.path / "summary.json", R"({"schema": "x", "site": "Old yard"})");
  prepare_output_folder(scratch.path, "Old yard");
  try {
    prepare_output_folder(scratch.path, "New yard");
    FAIL("accepted");
  } catch (const InputError& error) {
    CHECK_THAT(std::string(error.what()), ContainsSubstring("Old yard") && ContainsSubstring("New yard"));
    CHECK_FALSE(error.mend.empty());
  }
  prepare_output_folder(scratch.path, "New yard", true);
}

TEST_CASE("a file that is not of results is not replaced, others beside it do no harm") {
  for (const char* name : {"summary.json", "report.html", "maps", "levels.png"}) {
    const ScratchFolder scratch;
    write_whole_file(scratch.path / name, "{ not ours");
    CHECK_THROWS_WITH(prepare_output_folder(scratch.path, "yard"), ContainsSubstring(name));
    CHECK_NOTHROW(prepare_output_folder(scratch.path, "yard", true));
  }
  const ScratchFolder scratch;
  write_whole_file(scratch.path / "notes.txt", "x");
  prepare_output_folder(scratch.path, "yard");
  write_whole_file(scratch.path / "cutsheet.csv", "x");
  prepare_output_folder(scratch.path, "yard"); // marked by now
  CHECK_THROWS_WITH(prepare_output_folder(scratch.path, "New yard"), ContainsSubstring("\"yard\""));
  prepare_output_folder(scratch.path, "New yard", true);
  CHECK_THROWS_AS(prepare_output_folder(scratch.path, "yard"), InputError);
}

TEST_CASE("nothing is written through a link") {
  namespace fs = std::filesystem;
  const ScratchFolder scratch;
  const fs::path victim = scratch.path / "victim", folder = scratch.path / "out";
  write_whole_file(victim, "mine");
  prepare_output_folder(folder, "yard");
  fs::create_symlink(victim, part_of(folder / "a.txt"));
  write_whole_file(folder / "a.txt", "result");
  fs::create_symlink(victim, folder / "b.txt");
  write_whole_file(folder / "b.txt", "result");
  std::ifstream in(victim);
  CHECK(std::string(std::istreambuf_iterator<char>(in), {}) == "mine");
  fs::create_directories(scratch.path / "elsewhere");
  fs::create_directory_symlink(scratch.path / "elsewhere", folder / "maps");
  CHECK_THROWS_WITH(prepare_output_folder(folder, "yard"), ContainsSubstring("link"));
  CHECK_THROWS_WITH(prepare_output_folder(folder, "yard", true), ContainsSubstring("link"));
}

TEST_CASE("what cannot be written is an input error with a way to mend it") {
  const ScratchFolder scratch;
  write_whole_file(scratch.path / "file", "x");
  CHECK_THROWS_AS(prepare_output_folder(scratch.path / "file", "yard"), InputError);
  CHECK_THROWS_AS(prepare_output_folder(scratch.path / "file" / "below", "yard"), InputError);
  CHECK_THROWS_AS(write_whole_file(scratch.path / "missing" / "file", "x"), InputError);
}

TEST_CASE("a file is written whole and leaves no part behind") {
  const ScratchFolder scratch;
  const auto path = scratch.path / "a.txt";
  write_whole_file(path, "first");
  write_whole_file(path, "second");
  std::ifstream in(path);
  CHECK(std::string(std::istreambuf_iterator<char>(in), {}) == "second");
  CHECK_FALSE(std::filesystem::exists(part_of(path)));
}

TEST_CASE("a file that finds no room leaves nothing half-written, and the older one whole") {
  const ScratchFolder scratch;
  const std::filesystem::path& folder = scratch.path;
  write_whole_file(folder / "page.html", "older");
  rlimit before{};
  REQUIRE(getrlimit(RLIMIT_FSIZE, &before) == 0);
  const rlimit small{4096, before.rlim_max};
  const auto handler = std::signal(SIGXFSZ, SIG_IGN); // the write then fails, as on a full disk
  REQUIRE(setrlimit(RLIMIT_FSIZE, &small) == 0);
  std::string found;
  try {
    write_whole_file(folder / "page.html", std::string(50000, 'x'));
  } catch (const InputError& error) {
    found = error.found;
  }
  setrlimit(RLIMIT_FSIZE, &before);
  std::signal(SIGXFSZ, handler);
  CHECK_THAT(found, ContainsSubstring("the disk may be full"));
  CHECK_FALSE(std::filesystem::exists(folder / "page.html.part"));
  std::ifstream page(folder / "page.html");
  CHECK(std::string(std::istreambuf_iterator<char>(page), {}) == "older");
}
