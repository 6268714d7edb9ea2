#include "catch.hpp"

#include <array>
#include <cstdio>
#include <cstdlib>
#include <memory>

#include <lowspot/base/error.hpp>
#include <lowspot/report/write_report.hpp>
#include <lowspot/results/output_folder.hpp>

#include "report/sample_site.hpp"
#include "results/scratch_folder.hpp"

using namespace lowspot::report;

namespace {

std::string output_of(const std::string& command) {
  const std::unique_ptr<FILE, int (*)(FILE*)> pipe(popen(command.c_str(), "r"), pclose);
  std::string text;
  std::array<char, 4096> part{};
  while (pipe && std::fgets(part.data(), part.size(), pipe.get()) != nullptr) text += part.data();
  return text;
}

} // namespace

TEST_CASE("a report is one file under five megabytes beside its maps") {
  const ScratchFolder scratch;
  write_report(sample::site(), sample::comparison(), scratch.path / "out");
  CHECK(file_size(scratch.path / "out" / "report.html") < 5000000);
  CHECK(file_size(scratch.path / "out" / "maps" / "before-after.png") > 10000);
}

TEST_CASE("a report does not go over another yard's results unasked") {
  const ScratchFolder scratch;
  lowspot::results::write_whole_file(scratch.path / "summary.json", R"({"site": "Other yard"})");
  CHECK_THROWS_AS(write_report(sample::site(), sample::comparison(), scratch.path), lowspot::InputError);
  CHECK_FALSE(std::filesystem::exists(scratch.path / "report.html"));
  write_report(sample::site(), sample::comparison(), scratch.path, true);
  CHECK(std::filesystem::exists(scratch.path / "report.html"));
}

TEST_CASE("maps that do not fit the grid are refused") {
  const ScratchFolder scratch;
  auto all = sample::comparison();
  all.designs[0].max_depth.pop_back();
  CHECK_THROWS_AS(write_report(sample::site(), all, scratch.path), std::invalid_argument);
}

TEST_CASE("a browser opens the report without complaint and the player starts") {
  if (std::system("command -v chromium > /dev/null 2>&1") != 0) {
    WARN("chromium is not installed: not checked");
    return;
  }
  const ScratchFolder scratch;
  write_report(sample::site(), sample::comparison(), scratch.path);
  const std::string page =
      output_of("chromium --headless --no-sandbox --disable-gpu --disable-quic --no-first-run "
                "--disable-background-networking "
                "--disable-component-update --disable-sync --enable-logging=stderr "
                "--virtual-time-budget=5000 --user-data-dir='" +
                (scratch.path / "profile").string() + "' --dump-dom 'file://" +
                (scratch.path / "report.html").string() + "' 2>'" + (scratch.path / "log").string() + "'");
  CHECK_THAT(page, ContainsSubstring("aria-valuetext=\"6 h into the storm"));
  CHECK(page.find("<div id=\"player-stage\" hidden") == std::string::npos);
  const std::string complaints =
      output_of("grep -E 'CONSOLE|Refused' '" + (scratch.path / "log").string() + "'");
  CHECK(complaints.empty());
}
