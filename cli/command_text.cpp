#include "command_text.hpp"

#include <CLI/CLI.hpp>

namespace lowspot::cli {
namespace {

// CLI11 names a set of words "TEXT:{one,two}".
std::vector<std::string> words_in_braces(const std::string& type) {
  std::vector<std::string> words;
  const std::size_t open = type.find('{'), close = type.find('}');
  if (open == std::string::npos || close == std::string::npos || close < open) return words;
  std::string word;
  for (char c : type.substr(open + 1, close - open - 1)) {
    if (c != ',') {
      word += c;
      continue;
    }
    words.push_back(word);
    word.clear();
  }
  words.push_back(word);
  return words;
}

CommandText text_of(const CLI::App& app) {
  CommandText text{app.get_name(), app.get_description(), app.get_footer(), {}};
  for (const CLI::Option* option : app.get_options()) {
    if (option->get_group().empty()) continue; // hidden
    OptionText shown;
    shown.meaning = option->get_description();
    shown.positional = option->get_positional() && option->get_lnames().empty();
    if (shown.positional)
      shown.names.push_back(option->get_single_name());
    else {
      for (const std::string& name : option->get_snames()) shown.names.push_back("-" + name);
      for (const std::string& name : option->get_lnames()) shown.names.push_back("--" + name);
    }
    shown.takes_value = option->get_items_expected_max() > 0;
    shown.repeats = option->get_items_expected_max() > 1;
    if (shown.takes_value) shown.choices = words_in_braces(option->get_type_name());
    text.options.push_back(shown);
  }
  return text;
}

} // namespace

std::vector<CommandText> command_texts(const CLI::App& app) {
  std::vector<CommandText> texts{text_of(app)};
  for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; }))
    if (!command->get_group().empty()) texts.push_back(text_of(*command));
  return texts;
}

} // namespace lowspot::cli
