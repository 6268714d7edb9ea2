// What a note in a rod book says of a benchmark.
#pragma once
#include <optional>
#include <string>

namespace lowspot::terrain {

// Whether the note speaks of one, as "BM", "BM1" or "benchmark".
bool names_benchmark(const std::string& note);

// The elevation in a note such as "BM 100.00" or "benchmark = 98.5, door sill", in the units of the site.
// Without
// "=" it stands next to the word, which in a row without a backsight begins the note, and there is no whole
// number
// ("BM 100"): "beside BM 2" and "beside BM, 0.5 lower" name another point.
std::optional<double> benchmark_in_note(const std::string& note, bool backsight);

} // namespace lowspot::terrain
