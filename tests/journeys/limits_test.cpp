// What is too large is refused at once and names the memory it would need; each case runs with two gigabytes.
#include "catch.hpp"

#include <unistd.h>

#include "journeys/program.hpp"

using journey::fs::path;

namespace {

const std::string yard_text =
    "[site]\nname='Large'\nunits='m'\noutline=[[0,0],[12,0],[12,8],[0,8]]\ncell='1 m'\n"
    "[ground]\nlevels='levels.csv'\n[storm]\npattern='blocks'\nblocks=[['10 min','25 mm/hr']]\ndry='1 hr'\n"
    "[[design]]\nname='d'\n[[design.run]]\nname='leg'\npath=[[4,4],[12,4]]\npipe='4 in corrugated, slotted'\n"
    "trench={width='0.3 m',depth='0.4 m'}\nfall='1 %'\nto='out'\n"
    "[[design.outlet]]\nname='out'\nkind='daylight'\nat=[12,4]\n";

std::string with(const std::string& old, const std::string& fresh) {
  std::string result = yard_text;
  const std::size_t at = result.find(old);
  REQUIRE(at != std::string::npos);
  return result.replace(at, old.size(), fresh);
}

path yard(const std::string& text) {
  const path folder = journey::fresh_folder("large");
  journey::write(folder / "site.toml", text);
  journey::write(folder / "levels.csv", "x,y,elevation\n0,0,10\n12,0,9.8\n0,8,10\n12,8,9.8\n6,4,9.85\n");
  return folder;
}

// `file` becomes one line of ten gigabytes that take no disk.
void stretch(const path& file) {
  std::ofstream(file, std::ios::app).close();
  journey::fs::resize_file(file, 10ull << 30);
}

// Sanitizers lay out terabytes of addresses at the start, so that no limit on them can be set.
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
constexpr bool sanitized = true;
#else
constexpr bool sanitized = false;
#endif

// Whether a case is passed over since it needs that limit; it says so.
bool passed_over() {
  if (sanitized) WARN("passed over: under this sanitizer no program runs with two gigabytes of addresses");
  return sanitized;
}

std::string refused(const std::vector<std::string>& arguments) {
  const journey::Answer answer = journey::run(arguments, "ulimit -v 2000000; exec");
  INFO(arguments[0] << ": " << answer.err);
  CHECK(answer.code == 2);
  CHECK(answer.err.size() < 1500);
  return answer.err;
}

} // namespace

TEST_CASE("a file with a line of ten gigabytes is refused by every reader of text") {
  if (passed_over()) return;
  const auto said = [](const std::string& text, const char* file, std::vector<std::string> arguments,
                       const char* place = nullptr) {
    const path folder = yard(text);
    stretch(folder / file);
    arguments.insert(arguments.begin() + 1, folder.string());
    CHECK_THAT(refused(arguments),
               ContainsSubstring(place == nullptr ? file : place) && ContainsSubstring("10700 MB"));
  };
  said(yard_text, "site.toml", {"check"});
  said(yard_text, "levels.csv", {"levels"});
  said(yard_text, "levels.csv", {"compare"});
  const std::string blocks = "pattern='blocks'\nblocks=[['10 min','25 mm/hr']]";
  said(with(blocks, "gauge='rain.csv'"), "rain.csv", {"compare"});
  said(with(blocks, "table='ddf.csv'\nreturn_period='10 yr'"), "ddf.csv", {"compare"});
  said(yard_text + "[[soil]]\nname='s'\nhole_test='holes.csv'\n", "holes.csv", {"check"});
  said(with("outline=[[0,0],[12,0],[12,8],[0,8]]", "outline='yard.geojson'"), "yard.geojson", {"check"},
       "site.outline");
  said(with("outline=[[0,0],[12,0],[12,8],[0,8]]", "outline='yard.dxf:YARD'"), "yard.dxf", {"check"},
       "site.outline");

  const path folder = yard(yard_text);
  for (const char* file : {"dug.csv", "rain.csv"}) stretch(folder / file);
  CHECK_THAT(refused({"cutsheet", folder.string(), "--hi", "11", "--dug", (folder / "dug.csv").string()}),
             ContainsSubstring("dug.csv") && ContainsSubstring("10700 MB"));
  CHECK_THAT(
      refused({"yearlater", folder.string(), "--rain", (folder / "rain.csv").string(), "--outlet", "ran"}),
      ContainsSubstring("rain.csv") && ContainsSubstring("10700 MB"));
}

TEST_CASE("a raster that its header makes huge is refused") {
  if (passed_over()) return;
  const path folder = yard(with("levels='levels.csv'", "raster='ground.asc'"));
  journey::write(folder / "ground.asc",
                 "ncols 100000\nnrows 100000\nxllcorner 0\nyllcorner 0\ncellsize 1\n1 2 3\n");
  CHECK_THAT(refused({"compare", folder.string()}), ContainsSubstring("20000000000 bytes"));
  stretch(folder / "ground.asc");
  CHECK_THAT(refused({"compare", folder.string()}), ContainsSubstring("ground.asc"));
}

TEST_CASE("cells, runs and hours beyond memory or patience are refused") {
  if (passed_over()) return;
  CHECK_THAT(refused({"compare", yard(with("cell='1 m'", "cell='0.3 mm'")).string()}),
             ContainsSubstring("site.cell") && ContainsSubstring("GB"));
  CHECK_THAT(refused({"compare", yard(yard_text).string(), "--cell", "0.3 mm"}),
             ContainsSubstring("GB") && ContainsSubstring("site.cell"));
  // Below the limit, and more than this process may have.
  CHECK_THAT(refused({"diagnose", yard(yard_text).string(), "--cell", "6 mm"}),
             ContainsSubstring("GB of memory"));
  for (const char* rain :
       {"pattern='uniform'\ndepth='1 in'\nduration='1e9 s'", "blocks=[['1e9 s','1 mm/hr']]",
        "pattern='nested'\ndepth='1 in'\nduration='1e300 s'"})
    CHECK_THAT(
        refused({"compare", yard(with("pattern='blocks'\nblocks=[['10 min','25 mm/hr']]", rain)).string()}),
        ContainsSubstring("three years"));
  CHECK_THAT(refused({"compare", yard(yard_text + "[run]\nuntil='1000 d'\noutput_every='1 s'\n").string()}),
             ContainsSubstring("rows"));
  std::string many;
  for (int k = 0; k < 6000; ++k) many += "[[gauge]]\nat=[1,1]\n";
  CHECK_THAT(refused({"check", yard(yard_text + many).string()}), ContainsSubstring("6000 entries"));
  std::string values;
  for (int k = 0; k < 50; ++k) values += "'" + std::to_string(300 + k) + " mm',";
  const std::string list = "[" + values + "]";
  CHECK_THAT(refused({"tune", yard(yard_text + "[tune]\nvary={depth=" + list + ",width=" + list +
                                   ",offset=" + list + "}\n")
                                  .string()}),
             ContainsSubstring("125000 combinations"));
}
