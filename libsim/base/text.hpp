// Small text helpers shared by readers and writers.
#pragma once
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace lowspot {

// Without the white space at both ends; with ASCII letters made small.
std::string trim(std::string_view text);
std::string lower(std::string_view text);
// The candidate nearest to `word` by edit distance, or empty when none is near enough to suggest.
std::string nearest(std::string_view word, const std::vector<std::string>& candidates);
// Shortest text that reads back as the same double ("." as the decimal mark whatever the locale).
std::string number_text(double value);
// At most `digits` significant digits, no exponent between 1e-4 and 1e7, no trailing zeros.
std::string rounded(double value, int digits = 3);
// A whole file as text. Throws InputError when it is missing, a folder, over `limit` bytes or not text in
// UTF-8.
std::string read_text(const std::filesystem::path& path, std::size_t limit = 200u << 20);

} // namespace lowspot
