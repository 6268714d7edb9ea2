#include "catch.hpp"

#include "journeys/program.hpp"

using journey::run;

namespace {
// The long options that `lowspot COMMAND --help` lists.
std::vector<std::string> options_in(const std::string& help) {
  std::vector<std::string> names;
  for (std::size_t at = help.find("--"); at != std::string::npos; at = help.find("--", at + 2)) {
    const std::size_t end = help.find_first_not_of("abcdefghijklmnopqrstuvwxyz-", at);
    if (at > 0 && (help[at - 1] == ' ' || help[at - 1] == ',') && end > at + 2)
      names.push_back(help.substr(at, end - at));
  }
  return names;
}
} // namespace

TEST_CASE("the manual and the completions know every option that help lists") {
  const std::string manual = run({"manual"}).out;
  std::string plain;
  for (char c : manual)
    if (c != '\\') plain += c;
  std::vector<std::string> shells;
  for (const char* shell : {"bash", "zsh", "fish"}) {
    const journey::Answer answer = run({"completion", shell});
    CHECK(answer.code == 0);
    shells.push_back(answer.out);
  }
  for (const char* command : {"start", "check", "levels", "diagnose", "compare", "cutsheet", "takeoff"}) {
    const std::vector<std::string> names = options_in(run({command, "--help"}).out);
    CHECK(!names.empty());
    for (const std::string& name : names) {
      INFO(command << " " << name);
      CHECK_THAT(plain, ContainsSubstring(name));
      CHECK_THAT(shells[0], ContainsSubstring(name));
      CHECK_THAT(shells[1], ContainsSubstring(name + "["));
      CHECK_THAT(shells[2], ContainsSubstring("-l " + name.substr(2)));
    }
  }
  CHECK(run({"completion", "sh"}).code == 2);
}

TEST_CASE("bash completes commands, options, their words and files") {
  const journey::fs::path folder = journey::fresh_folder("complete");
  journey::write(folder / "completion", run({"completion", "bash"}).out);
  journey::write(folder / "my-yard/site.toml", "");
  const auto complete = [&](const std::string& words, int at) {
    const std::string script = "cd '" + folder.string() + "'; . ./completion; COMP_WORDS=(" + words +
                               "); COMP_CWORD=" + std::to_string(at) +
                               "; _lowspot; echo \"${COMPREPLY[*]}\" > said";
    CHECK(std::system(("bash -c " + journey::quoted(script)).c_str()) == 0);
    return journey::content(folder / "said");
  };
  CHECK(complete("lowspot comp", 1) == "compare completion\n");
  CHECK(complete("lowspot compare my", 2) == "my-yard\n");
  CHECK(complete("lowspot compare my-yard --meth", 3) == "--method\n");
  CHECK(complete("lowspot compare my-yard --method r", 4) == "routed\n");
  CHECK(complete("lowspot completion z", 2) == "zsh\n");
}

TEST_CASE("bash completes the names of a yard's designs, as they must be quoted") {
  const journey::fs::path folder = journey::fresh_folder("complete designs");
  journey::write(folder / "completion", run({"completion", "bash"}).out);
  const std::string yard = std::string(LOWSPOT_SOURCE_DATA) + "/demo";
  const auto complete = [&](const std::string& words, int at) {
    const std::string script = "cd " + journey::quoted(folder.string()) + "; . ./completion; lowspot() { " +
                               journey::quoted(LOWSPOT_PROGRAM) + " \"$@\"; }; COMP_WORDS=(" + words +
                               "); COMP_CWORD=" + std::to_string(at) +
                               "; _lowspot; printf '%s\\n' \"${COMPREPLY[@]}\" > said";
    CHECK(std::system(("bash -c " + journey::quoted(script)).c_str()) == 0);
    return journey::content(folder / "said");
  };
  const std::string under_soil = "3 in under soil\n", open_stone = "3 in under open stone\n";
  CHECK_THAT(complete("lowspot takeoff '" + yard + "' --design ''", 4),
             ContainsSubstring(under_soil) && ContainsSubstring(open_stone));
  // The line as it is typed: readline keeps its quotes and backslashes.
  CHECK(complete("lowspot takeoff '\"" + yard + "\"' --design '\"3 in under s'", 4) == under_soil);
  CHECK(complete("lowspot compare --design '3\\ in\\ under\\ o' '" + yard + "'", 3) == open_stone);
  CHECK(complete("lowspot compare no-such-yard --design ''", 4) == "\n");
  CHECK_THAT(run({"--help"}).out, !ContainsSubstring("design-names"));
}
