#include <lowspot/study/journal.hpp>

#include "catch.hpp"
#include "results/scratch_folder.hpp"

using namespace lowspot;

TEST_CASE("the fingerprint is that of FNV-1a and tells where parts end") {
  // Every part is followed by a mark, here the only byte: the published value of FNV-1a for "\x1f".
  std::uint64_t expected = 14695981039346656037ull;
  expected = (expected ^ 0x1f) * 1099511628211ull;
  char digits[17];
  std::snprintf(digits, sizeof digits, "%016llx", static_cast<unsigned long long>(expected));
  CHECK(study::Fingerprint().add("").text() == digits);
  CHECK(study::Fingerprint().add("ab").add("c").text() != study::Fingerprint().add("a").add("bc").text());
  CHECK(study::Fingerprint().add(1.0).text() != study::Fingerprint().add(1.0 + 1e-15).text());
}

TEST_CASE("what was added is there after a new start, but for a line that was cut short") {
  const ScratchFolder folder;
  const std::filesystem::path file = folder.path / "journal";
  {
    study::Journal journal(file, "yard");
    journal.add("one", "first result");
    journal.add("two", "{\"a\": 2}");
  }
  {
    std::ofstream(file, std::ios::app) << "three half a li";
    study::Journal journal(file, "yard");
    CHECK(journal.kept() == 2);
    CHECK_FALSE(journal.other_study());
    CHECK(journal.find("one") == "first result");
    CHECK_FALSE(journal.find("three"));
    journal.add("three", "whole");
  }
  study::Journal journal(file, "yard");
  CHECK(journal.find("two") == "{\"a\": 2}");
  CHECK(journal.find("three") == "whole");
}

TEST_CASE("a journal of another study is begun anew and says so") {
  const ScratchFolder folder;
  const std::filesystem::path file = folder.path / "journal";
  study::Journal(file, "yard").add("one", "result");
  {
    study::Journal other(file, "another yard");
    CHECK(other.other_study());
    CHECK(other.kept() == 0);
    other.add("one", "of the other");
  }
  CHECK(study::Journal(file, "another yard").find("one") == "of the other");
  CHECK_THROWS(study::Journal(folder.path / "no" / "such" / "folder", "yard"));
}
