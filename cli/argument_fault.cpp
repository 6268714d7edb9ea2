#include "argument_fault.hpp"

#include <algorithm>
#include <vector>

#include <CLI/CLI.hpp>

#include <lowspot/base/text.hpp>

namespace lowspot::cli {
namespace {

// The command that was asked for, or the program itself.
const CLI::App& scope_of(const CLI::App& app, int argc, char** argv) {
  for (const CLI::App* command : app.get_subcommands({}))
    if (argc > 1 && command->get_name() == argv[1]) return *command;
  return app;
}

// What an option that takes a number expects, and one to write.
struct Expected {
  const char* words;
  const char* example;
};
Expected expected_of(const CLI::App& scope, const std::string& name) {
  const CLI::Option* option = scope.get_option_no_throw(name);
  const std::string type = option == nullptr ? "" : option->get_type_name();
  if (type.rfind("UINT", 0) == 0) return {"a whole number, 0 or more", "1"};
  if (type.rfind("INT", 0) == 0) return {"a whole number", "4"};
  return {"a number without a unit", "104.32"};
}

// The parser names option and value of what it could not read: "Could not convert: --seed = x".
std::string not_a_number(const CLI::App& scope, const std::string& text) {
  const std::size_t name = text.find("--"), sign = text.find(" = ", name);
  if (name == std::string::npos || sign == std::string::npos) return text;
  const std::string option = text.substr(name, sign - name), value = text.substr(sign + 3);
  const Expected expected = expected_of(scope, option);
  return option + ": found \"" + value + "\"; expected " + expected.words +
         ".\n  To mend it: write it like " + option + " " + expected.example + ".";
}

// It says of an option without a value: "--seed: 1 required UINT missing".
std::string without_value(const std::string& text) {
  const std::size_t end = text.find(':');
  if (text.rfind("--", 0) != 0 || text.find("missing") == std::string::npos) return text;
  const std::string option = text.substr(0, end);
  return option + ": found nothing after it; expected a value.\n  To mend it: write it like " + option +
         " VALUE.";
}

} // namespace

std::string argument_fault(const CLI::App& app, const CLI::Error& problem, int argc, char** argv) {
  const CLI::App& scope = scope_of(app, argc, argv);
  // These know which option is wrong; the others say only what was not expected.
  if (dynamic_cast<const CLI::ConversionError*>(&problem)) return not_a_number(scope, problem.what());
  if (dynamic_cast<const CLI::ArgumentMismatch*>(&problem)) return without_value(problem.what());
  std::vector<std::string> known;
  if (&scope == &app)
    for (const CLI::App* command : app.get_subcommands({})) known.push_back(command->get_name());
  for (const CLI::Option* option : scope.get_options())
    for (const std::string& name : option->get_lnames()) known.push_back("--" + name);
  for (int k = 1; k < argc; ++k) {
    std::string word = argv[k];
    if (&scope != &app && word.rfind("--", 0) != 0) continue;
    if (word.rfind("--", 0) == 0) word = word.substr(0, word.find('=')); // "--seed=1" is --seed
    if (std::find(known.begin(), known.end(), word) != known.end()) continue;
    const std::string near = nearest(word, known);
    if (!near.empty()) return "'" + word + "' is not known; did you mean '" + near + "'?";
    if (&scope == &app && k == 1) return "'" + word + "' is not a command of lowspot";
  }
  return problem.what();
}

} // namespace lowspot::cli
