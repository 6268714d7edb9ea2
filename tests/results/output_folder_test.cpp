#include "catch.hpp"

#include <fstream>
#include <iterator>

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

TEST_CASE("a summary that is not ours does not stand in the way") {
  const ScratchFolder scratch;
  write_whole_file(scratch.path / "summary.json", "{ broken");
  prepare_output_folder(scratch.path, "yard");
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
