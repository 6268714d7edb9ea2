#include "catch.hpp"

#include <lowspot/terrain/benchmark_note.hpp>

using namespace lowspot::terrain;

TEST_CASE("an elevation in a note belongs to the benchmark that it names", "[benchmark_note]") {
  for (const bool backsight : {false, true}) {
    CHECK(benchmark_in_note("BM 100.00", backsight) == 100.0);
    CHECK(benchmark_in_note("benchmark: 98.5, door sill", backsight) == 98.5);
    CHECK(benchmark_in_note("BM1 = 12", backsight) == 12.0);
    CHECK(benchmark_in_note("BM 2 = 98.5", backsight) == 98.5);
    CHECK(benchmark_in_note("BM 2 98.50", backsight) == 98.5);
    CHECK_FALSE(benchmark_in_note("BM1 on the wall", backsight));
    CHECK_FALSE(benchmark_in_note("submerged 100", backsight));
    CHECK_FALSE(benchmark_in_note("", backsight));
  }
  CHECK(benchmark_in_note("BM 100", true) == 100.0);
  CHECK_FALSE(benchmark_in_note("beside BM 2", false));
  CHECK_FALSE(benchmark_in_note("grate beside BM, 0.5 lower", false));
  CHECK_FALSE(benchmark_in_note("beside BM 0.5 lower", false));
  CHECK_FALSE(benchmark_in_note("BM, 0.5 above the walk", false));
  CHECK_FALSE(benchmark_in_note("BM on the wall 0.5 ft over the walk", true));
  CHECK(benchmark_in_note("door sill BM 100.00", true) == 100.0);
}

TEST_CASE("a note names a benchmark as a word of its own", "[benchmark_note]") {
  for (const char* note : {"BM", "BM1 on the wall", "old benchmark", "sill (BM)"})
    CHECK(names_benchmark(note));
  for (const char* note : {"", "submerged", "bmx ramp", "lawn"}) CHECK_FALSE(names_benchmark(note));
}
