#include "catch.hpp"

#include <lowspot/base/error.hpp>
#include <lowspot/results/write_outputs.hpp>

#include "results/sample_comparison.hpp"
#include "results/scratch_folder.hpp"

using namespace lowspot::results;

TEST_CASE("all files are written, whole") {
  const ScratchFolder scratch;
  const auto folder = scratch.path / "out";
  write_outputs(sample::comparison(), folder);
  int files = 0;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    CHECK(entry.path().extension() != ".part");
    ++files;
  }
  CHECK(files == 4); // and the mark of the folder
  for (const char* name : {"summary.json", "hydrographs.csv", "results.nc"})
    CHECK(file_size(folder / name) > 100);
  write_outputs(sample::comparison(), folder); // again over its own results
  auto other = sample::comparison();
  other.site_name = "Another yard";
  CHECK_THROWS_AS(write_outputs(other, folder), lowspot::InputError);
  write_outputs(other, folder, true);
}
