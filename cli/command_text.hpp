// What --help knows of each command, as plain data: the manual page and the shells' completions are made from
// it, so that they cannot say anything else.
#pragma once
#include <string>
#include <vector>

namespace CLI {
class App;
}

namespace lowspot::cli {

struct OptionText {
  std::vector<std::string> names; // "--out"; of a positional argument its name, such as "SITE"
  std::string meaning;
  std::vector<std::string> choices; // the words it can be, where they are few
  bool positional = false;
  bool takes_value = false;
  bool repeats = false;
};

struct CommandText {
  std::string name, meaning, footer;
  std::vector<OptionText> options;
};

// The program itself first, then its commands in their order.
std::vector<CommandText> command_texts(const CLI::App& app);

} // namespace lowspot::cli
