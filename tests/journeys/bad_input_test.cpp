// Bad input by hand: each a clear error that names file and key, exit code 2, nothing written.
#include "catch.hpp"

#include <unistd.h>

#include "journeys/program.hpp"

using journey::fs::path;

namespace {
const std::string good_site =
    "[site]\nname='Bad day'\nunits='m'\noutline=[[0,0],[12,0],[12,8],[0,8]]\ncell='0.5 m'\n"
    "[ground]\nlevels='levels.csv'\n"
    "[storm]\npattern='blocks'\nblocks=[['10 min','25 mm/hr']]\ndry='1 hr'\n";
const std::string good_levels = "x,y,elevation\n0,0,10\n12,0,9.8\n0,8,10\n12,8,9.8\n6,4,9.85\n";
const std::string drain_text =
    "[[design]]\nname='d'\n[[design.run]]\nname='leg'\npath=[[4,4],[12,4]]\npipe='4 in corrugated, slotted'\n"
    "trench={width='0.3 m',depth='0.4 m'}\nfall='1 %'\nto='out'\n"
    "[[design.outlet]]\nname='out'\nkind='daylight'\nat=[12,4]\n";

struct Case {
  const char* name;
  std::string site, levels;
  std::vector<const char*> words; // all must stand in the message
};

std::string with(const std::string& text, const std::string& old, const std::string& fresh) {
  std::string result = text;
  const std::size_t at = result.find(old);
  REQUIRE(at != std::string::npos);
  result.replace(at, old.size(), fresh);
  return result;
}
} // namespace

TEST_CASE("the yard that the bad ones are made from is good") {
  const path folder = journey::fresh_folder("good");
  journey::write(folder / "site.toml", good_site + drain_text);
  journey::write(folder / "levels.csv", good_levels);
  const journey::Answer answer = journey::run({"compare", folder.string(), "--quiet"});
  INFO(answer.err);
  CHECK(answer.code == 0);
}

TEST_CASE("bad input is refused with file, key and a way to mend it") {
  const std::string drained = good_site + drain_text;
  const std::vector<Case> cases = {
      {"levels file missing", with(good_site, "levels.csv", "nowhere.csv"), good_levels, {"nowhere.csv"}},
      {"wrong unit",
       with(good_site, "cell='0.5 m'", "cell='0.5 in/hr'"),
       good_levels,
       {"site.toml:5", "cell"}},
      {"no unit", with(good_site, "dry='1 hr'", "dry='7'"), good_levels, {"site.toml", "dry"}},
      {"bare number for a quantity",
       with(good_site, "dry='1 hr'", "dry=7"),
       good_levels,
       {"site.toml", "dry"}},
      {"unknown key", with(good_site, "cell=", "cel="), good_levels, {"site.toml:5", "cel", "cell"}},
      {"outline that crosses itself",
       with(good_site, "[[0,0],[12,0],[12,8],[0,8]]", "[[0,0],[12,0],[2,8],[10,8]]"),
       good_levels,
       {"site.toml:4", "outline", "cross"}},
      {"design outside the yard",
       with(drained, "path=[[4,4],[12,4]]", "path=[[4,4],[25,4]]"),
       good_levels,
       {"site.toml", "path"}},
      {"drain that runs uphill",
       with(drained, "fall='1 %'", "inverts=[9.4,9.6]"),
       good_levels,
       {"site.toml", "run[1].inverts", "uphill"}},
      {"outlet above the pipe",
       with(drained, "at=[12,4]\n", "at=[12,4]\ninvert=9.75\n"),
       good_levels,
       {"site.toml", "out"}},
      {"two areas of one name",
       good_site + "[[area]]\nname='a'\nkind='lawn'\nrectangle=[0,0,2,2]\n[[area]]\nname='a'\nkind='lawn'"
                   "\nrectangle=[3,3,2,2]\n",
       good_levels,
       {"site.toml", "\"a\""}},
      {"unknown pipe",
       with(drained, "4 in corrugated, slotted", "5 in corrugated, slotted"),
       good_levels,
       {"site.toml", "pipe", "4 in corrugated"}},
      {"run to nowhere", with(drained, "to='out'", "to='oot'"), good_levels, {"site.toml", "oot", "out"}},
      {"empty levels", good_site, "", {"levels.csv"}},
      {"levels with a header only", good_site, "x,y,elevation\n", {"levels.csv"}},
      {"levels on one line", good_site, "x,y,elevation\n0,0,10\n4,4,10\n8,8,9.9\n", {"levels.csv", "line"}},
      {"a word for a number",
       good_site,
       "x,y,elevation\n0,0,10\n4,four,10\n8,1,9.9\n",
       {"levels.csv:3", "four"}},
      {"broken toml", with(good_site, "name='Bad day'", "name=Bad day"), good_levels, {"site.toml:2"}},
      {"junk for a site file",
       std::string("\x7f"
                   "ELF\0\1\2\3\xff\xfe",
                   11),
       good_levels,
       {"site.toml"}},
      {"junk for levels", good_site, std::string("\x89PNG\r\n\x1a\n\0\0\0\rIHDR", 16), {"levels.csv"}},
      {"rain table missing",
       with(good_site, "pattern='blocks'\nblocks=[['10 min','25 mm/hr']]", "table='rain.csv'"),
       good_levels,
       {"rain.csv"}},
      {"a billion cells",
       with(good_site, "cell='0.5 m'", "cell='0.01 mm'"),
       good_levels,
       {"site.toml", "cell"}},
  };
  for (const Case& bad : cases) {
    const path folder = journey::fresh_folder("bad");
    journey::write(folder / "site.toml", bad.site);
    journey::write(folder / "levels.csv", bad.levels);
    const journey::Answer answer =
        journey::run({"compare", folder.string(), "--quiet", "--out", (folder / "out").string()});
    INFO("case: " << bad.name << "\nsaid: " << answer.err);
    CHECK(answer.code == 2);
    for (const char* word : bad.words) CHECK_THAT(answer.err, ContainsSubstring(word));
    CHECK_THAT(answer.err, ContainsSubstring("found"));
    CHECK_FALSE(std::filesystem::exists(folder / "out"));
    CHECK(journey::run({"check", folder.string()}).code == 2);
  }
}

TEST_CASE("what is odd in the site file stands beside the error that it leads to") {
  const path folder = journey::fresh_folder("odd-units");
  // A yard in feet called metres: the ground falls away over the first pipe.
  journey::write(folder / "site.toml", "[site]\nname='t'\nunits='m'\noutline=[[0,0],[64,0],[64,70],[0,70]]\n"
                                       "cell='2 m'\n[ground]\nlevels='levels.csv'\n[[design]]\nname='d'\n"
                                       "[[design.run]]\npath=[[32,60],[32,0]]\n"
                                       "pipe='4 in corrugated, slotted'\ntrench={depth='18 in'}\n"
                                       "fall='1 %'\n");
  journey::write(folder / "levels.csv", "x,y,elevation\n0,0,98\n64,0,98\n64,70,100\n0,70,100\n");
  const journey::Answer answer = journey::run({"check", folder.string()});
  INFO(answer.err);
  CHECK(answer.code == 2);
  CHECK_THAT(answer.err, ContainsSubstring("above the ground") && ContainsSubstring("Odd besides") &&
                             ContainsSubstring("1.1 acres"));
}

TEST_CASE("a folder without a site file, and no folder at all") {
  const path folder = journey::fresh_folder("empty");
  CHECK(journey::run({"compare", folder.string()}).code == 2);
  CHECK(journey::run({"check", (folder / "nothing").string()}).code == 2);
}

// The e with an accent as Windows and Latin-1 write it.
TEST_CASE("a letter that is not UTF-8 is refused with its line and byte, by every reader of text") {
  const std::string odd = "caf\xe9", blocks = "pattern='blocks'\nblocks=[['10 min','25 mm/hr']]";
  const auto refused = [](const path& folder, std::vector<std::string> arguments, const std::string& place) {
    arguments.insert(arguments.begin() + 1, folder.string());
    const journey::Answer answer = journey::run(arguments);
    INFO(arguments[0] << ": " << answer.err);
    CHECK(answer.code == 2);
    CHECK_THAT(answer.err,
               ContainsSubstring(place + ": found a letter that is not UTF-8") && ContainsSubstring("0xE9"));
    CHECK(answer.out.empty());
  };
  const auto yard = [](const std::string& site, const std::string& levels, const std::string& name = "",
                       const std::string& table = "") {
    const path folder = journey::fresh_folder("latin");
    journey::write(folder / "site.toml", site);
    journey::write(folder / "levels.csv", levels);
    if (!name.empty()) journey::write(folder / name, table);
    return folder;
  };
  const std::string noted =
      "x,y,elevation,note\n0,0,10,\n12,0,9.8," + odd + "\n0,8,10,\n12,8,9.8,\n6,4,9.85,\n";
  refused(yard(good_site, noted), {"levels", "--json"}, "levels.csv:3");
  refused(yard(good_site, noted), {"compare", "--json"}, "levels.csv:3");
  refused(yard(with(good_site, "Bad day", odd), good_levels), {"check", "--json"}, "site.toml:2");
  refused(yard(good_site + with(drain_text, "name='d'", "name='" + odd + "'"), good_levels), {"compare"},
          "site.toml:13");
  refused(yard("# " + odd + "\n" + good_site, good_levels), {"check"}, "site.toml:1");
  refused(yard(with(good_site, blocks, "gauge='rain.csv'"), good_levels, "rain.csv",
               "time_min,rain_mm\n0,2\n# " + odd + "\n10,0\n"),
          {"compare"}, "rain.csv:3");
  refused(yard(with(good_site, blocks, "table='ddf.csv'\nreturn_period='10 yr'"), good_levels, "ddf.csv",
               odd + "\n"),
          {"compare"}, "ddf.csv:1");
  refused(yard(good_site + "[[soil]]\nname='s'\nhole_test='holes.csv'\n", good_levels, "holes.csv",
               "a,b\n1," + odd + "\n"),
          {"check"}, "holes.csv:2");
  const path dug =
      yard(good_site + drain_text, good_levels, "dug.csv", "station,reading\n0,1.2\n2," + odd + "\n");
  refused(dug, {"cutsheet", "--hi", "11", "--dug", (dug / "dug.csv").string()}, "dug.csv:3");
  const path rain = yard(good_site + drain_text, good_levels, "gauge.csv", "time_min," + odd + "\n0,2\n");
  refused(rain, {"yearlater", "--rain", (rain / "gauge.csv").string(), "--outlet", "ran"}, "gauge.csv:1");
}

TEST_CASE("a folder or an option whose bytes are not UTF-8 harms neither answers nor JSON") {
  const path folder = journey::fresh_folder("odd") / "caf\xe9";
  journey::write(folder / "site.toml", good_site + drain_text);
  journey::write(folder / "levels.csv", good_levels);
  for (const std::string command : {"check", "levels", "diagnose", "takeoff", "hosetest", "compare"}) {
    const journey::Answer answer = journey::run({command, folder.string(), "--json"});
    INFO(command << ": " << answer.err);
    CHECK(answer.code == 0);
    CHECK_NOTHROW(nlohmann::json::parse(answer.out)); // which refuses what is not UTF-8
  }
  const journey::Answer unknown = journey::run({"takeoff", folder.string(), "--design", "d\xe9"});
  CHECK(unknown.code == 2);
  CHECK_THAT(unknown.err, ContainsSubstring("d\uFFFD"));
  CHECK(unknown.err.find('\xe9') == std::string::npos);
}
