#include "catch.hpp"

#include <charconv>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <limits>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>

using namespace lowspot;

TEST_CASE("Trim and lower") {
  CHECK(trim(" \t a b\r\n") == "a b");
  CHECK(trim("") == "");
  CHECK(lower("No. 57, Washed") == "no. 57, washed");
}

TEST_CASE("The nearest name is suggested only when it is near") {
  const std::vector<std::string> names{"silt loam", "sandy loam", "loam"};
  CHECK(nearest("silt laom", names) == "silt loam");
  CHECK(nearest("Sandy Loam", names) == "sandy loam");
  CHECK(nearest("concrete", names) == "");
  CHECK(nearest("x", {"m"}) == "");
  CHECK(nearest("anything", {}) == "");
}

TEST_CASE("A number written as text reads back as the same double") {
  for (double value :
       {0.1, -1 / 3., 1e-300, 123456789.123, 5e-324, std::numeric_limits<double>::max(), 0.0}) {
    const std::string text = number_text(value);
    double back = 0;
    std::from_chars(text.data(), text.data() + text.size(), back);
    CHECK(back == value);
  }
  CHECK(number_text(0.25) == "0.25");
}

TEST_CASE("Rounded numbers read like a person wrote them") {
  CHECK(rounded(0) == "0");
  CHECK(rounded(3.14159) == "3.14");
  CHECK(rounded(2.5) == "2.5");
  CHECK(rounded(100) == "100");
  CHECK(rounded(1234.5) == "1230");
  CHECK(rounded(999.96, 4) == "1000");
  CHECK(rounded(0.00012345) == "0.000123");
  CHECK(rounded(-0.5) == "-0.5");
  CHECK(rounded(1.5e9) == "1.5e9");
  CHECK(rounded(2e-7) == "2e-7");
  CHECK(rounded(std::nan("")) == "unknown");
}

TEST_CASE("Files that are not text are refused by name") {
  const auto folder = std::filesystem::temp_directory_path() / "lowspot_text_test";
  std::filesystem::create_directories(folder);
  const auto file = folder / "a.txt";
  std::ofstream(file, std::ios::binary) << "\xEF\xBB\xBFline\r\n";
  CHECK(read_text(file) == "line\r\n");
  CHECK_THROWS_WITH(read_text(file, 4), ContainsSubstring("a file of 9e-6 MB"));
  std::ofstream(file, std::ios::binary) << "one\ncaf\xe9 yard\n";
  CHECK_THROWS_WITH(read_text(file),
                    ContainsSubstring("a.txt:2: ") && ContainsSubstring("byte 4 of the line, 0xE9"));
  std::ofstream(file, std::ios::binary) << std::string("a\0b", 3);
  CHECK_THROWS_WITH(read_text(file), ContainsSubstring("not text") && ContainsSubstring("a.txt"));
  CHECK_THROWS_AS(read_text(folder), InputError);
  CHECK_THROWS_WITH(read_text(folder / "missing"), ContainsSubstring("no such file"));
  std::filesystem::resize_file(file, 10ull << 30); // takes no disk: a file of one endless line
  CHECK_THROWS_WITH(read_text(file), ContainsSubstring("10700 MB") && ContainsSubstring("memory"));
  CHECK_THROWS_WITH(read_text("/dev/zero", 1000), ContainsSubstring("more than 0.001 MB"));
  std::filesystem::remove_all(folder);
}
