#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <memory>

#include <CLI/CLI.hpp>

#include <lowspot/base/error.hpp>

#include "command_text.hpp"
#include "commands.hpp"
#include "read_yard.hpp"

namespace lowspot::cli {
namespace {

std::string joined(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "" : " ") + word;
  return text;
}

std::vector<std::string> option_names(const CommandText& command) {
  std::vector<std::string> names;
  for (const OptionText& option : command.options)
    if (!option.positional) names.insert(names.end(), option.names.begin(), option.names.end());
  return names;
}

std::vector<std::string> positional_choices(const CommandText& command) {
  for (const OptionText& option : command.options)
    if (option.positional) return option.choices;
  return {};
}

// The names of the designs are in the yard that the line so far names: the shells ask the program for them.
constexpr const char* names_command = "design-names";
bool names_design(const OptionText& option) {
  return std::find(option.names.begin(), option.names.end(), "--design") != option.names.end();
}

std::string quoted(const std::string& text) {
  std::string result = "'";
  for (char c : text) result += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return result + "'";
}

void bash(const std::vector<CommandText>& texts) {
  // Readline puts the quotes of a name itself, as it does for files; what is typed may have some already.
  std::printf("# bash completion of lowspot, made by `lowspot completion bash`\n"
              "_lowspot_designs() {\n  local name begun=${cur//\\\\/}\n  begun=${begun#[\\\"\\']}\n"
              "  while IFS= read -r name; do\n    [[ $name == \"$begun\"* ]] && COMPREPLY+=(\"$name\")\n"
              "  done < <(\"${COMP_WORDS[0]}\" %s -- \"${COMP_WORDS[@]:2}\" 2>/dev/null)\n}\n",
              names_command);
  std::printf("_lowspot() {\n  local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]} words=\n"
              "  COMPREPLY=()\n  if [ \"$COMP_CWORD\" -eq 1 ]; then\n    words='");
  for (std::size_t k = 1; k < texts.size(); ++k) std::printf("%s ", texts[k].name.c_str());
  std::printf("%s'\n    COMPREPLY=($(compgen -W \"$words\" -- \"$cur\"))\n    return\n  fi\n"
              "  case \"${COMP_WORDS[1]} $prev\" in\n",
              joined(option_names(texts.front())).c_str());
  for (std::size_t k = 1; k < texts.size(); ++k)
    for (const OptionText& option : texts[k].options)
      for (const std::string& name : option.names) {
        if (option.positional || !option.takes_value) continue;
        std::printf("    '%s %s') ", texts[k].name.c_str(), name.c_str());
        if (names_design(option))
          std::printf("_lowspot_designs; return ;;\n");
        else if (option.choices.empty())
          std::printf("COMPREPLY=($(compgen -f -- \"$cur\")); return ;;\n");
        else
          std::printf("COMPREPLY=($(compgen -W '%s' -- \"$cur\")); return ;;\n",
                      joined(option.choices).c_str());
      }
  std::printf("  esac\n  case \"${COMP_WORDS[1]}\" in\n");
  for (std::size_t k = 1; k < texts.size(); ++k)
    std::printf("    %s) words='%s' plain='%s' ;;\n", texts[k].name.c_str(),
                joined(option_names(texts[k])).c_str(), joined(positional_choices(texts[k])).c_str());
  std::printf("  esac\n  if [[ $cur == -* ]]; then\n    COMPREPLY=($(compgen -W \"$words\" -- \"$cur\"))\n"
              "  elif [ -n \"$plain\" ]; then\n    COMPREPLY=($(compgen -W \"$plain\" -- \"$cur\"))\n"
              "  else\n    COMPREPLY=($(compgen -f -- \"$cur\"))\n  fi\n}\n"
              "complete -o filenames -F _lowspot lowspot\n");
}

// zsh's _arguments treats colons and brackets as its own.
std::string zsh_text(const std::string& text) {
  std::string result;
  for (char c : text) {
    if (c == '[' || c == ']' || c == ':' || c == '\\') result += '\\';
    result += c == '\n' ? ' ' : c;
  }
  return result;
}

void zsh(const std::vector<CommandText>& texts) {
  std::printf("#compdef lowspot\n# zsh completion of lowspot, made by `lowspot completion zsh`\n"
              "_lowspot_designs() {\n  local -a names\n"
              "  names=(${(f)\"$(lowspot %s -- ${(Q)words} 2>/dev/null)\"})\n  compadd -a names\n}\n",
              names_command);
  std::printf("_lowspot() {\n"
              "  local -a commands\n  commands=(\n");
  for (std::size_t k = 1; k < texts.size(); ++k)
    std::printf("    %s\n", quoted(texts[k].name + ":" + zsh_text(texts[k].meaning)).c_str());
  std::printf("  )\n  if (( CURRENT == 2 )); then\n    _describe command commands\n    return\n  fi\n"
              "  local command=$words[2]\n  shift words\n  (( CURRENT-- ))\n  case $command in\n");
  for (std::size_t k = 1; k < texts.size(); ++k) {
    std::printf("    %s) _arguments", texts[k].name.c_str());
    for (const OptionText& option : texts[k].options) {
      const std::string values = names_design(option)     ? ":_lowspot_designs"
                                 : option.choices.empty() ? ":_files"
                                                          : ":(" + joined(option.choices) + ")";
      if (option.positional) {
        std::printf(" \\\n      %s", quoted(std::string("*:") + option.names[0] + values).c_str());
        continue;
      }
      for (const std::string& name : option.names)
        std::printf(" \\\n      %s",
                    quoted((option.repeats ? "*" : "") + name + "[" + zsh_text(option.meaning) + "]" +
                           (option.takes_value ? ":value" + values : std::string()))
                        .c_str());
    }
    std::printf(" ;;\n");
  }
  std::printf("  esac\n}\n_lowspot \"$@\"\n");
}

void fish(const std::vector<CommandText>& texts) {
  std::printf("# fish completion of lowspot, made by `lowspot completion fish`\n");
  for (std::size_t k = 1; k < texts.size(); ++k)
    std::printf("complete -c lowspot -n __fish_use_subcommand -f -a %s -d %s\n", texts[k].name.c_str(),
                quoted(texts[k].meaning).c_str());
  for (std::size_t k = 1; k < texts.size(); ++k) {
    const std::string inside = "-n '__fish_seen_subcommand_from " + texts[k].name + "'";
    const std::vector<std::string> plain = positional_choices(texts[k]);
    if (!plain.empty())
      std::printf("complete -c lowspot %s -f -a %s\n", inside.c_str(), quoted(joined(plain)).c_str());
    for (const OptionText& option : texts[k].options) {
      if (option.positional) continue;
      std::printf("complete -c lowspot %s", inside.c_str());
      for (const std::string& name : option.names)
        std::printf(name.rfind("--", 0) == 0 ? " -l %s" : " -s %s",
                    name.substr(name.rfind("--", 0) == 0 ? 2 : 1).c_str());
      if (names_design(option))
        std::printf(" -x -a '(lowspot %s -- (commandline -opc) 2>/dev/null)'", names_command);
      else if (option.takes_value)
        std::printf(option.choices.empty() ? " -r%s" : " -x -a %s",
                    option.choices.empty() ? "" : quoted(joined(option.choices)).c_str());
      std::printf(" -d %s\n", quoted(option.meaning).c_str());
    }
  }
}

// A word of an unfinished line as the shell would hand it over.
std::string as_handed_over(const std::string& word) {
  std::string text;
  for (char c : word)
    if (c != '\\' && c != '"' && c != '\'') text += c;
  const char* home = std::getenv("HOME");
  if (home != nullptr && word.rfind("~/", 0) == 0) text.replace(0, 1, home);
  return text;
}

// The yard that the words of an unfinished line name; empty where none does.
std::string yard_in(const std::vector<std::string>& words) {
  for (const std::string& word : words) {
    const std::filesystem::path path = as_handed_over(word);
    std::error_code none;
    if (std::filesystem::exists(path / "site.toml", none) ||
        (path.extension() == ".toml" && std::filesystem::exists(path, none)))
      return path;
  }
  return {};
}

} // namespace

void add_completion(CLI::App& app, Context& context) {
  CLI::App* command = app.add_subcommand(
      "completion", "What lets a shell complete commands and options: for bash, zsh or fish");
  const auto shell = std::make_shared<std::string>();
  command->add_option("SHELL", *shell, "bash, zsh or fish")
      ->required()
      ->check(CLI::IsMember({"bash", "zsh", "fish"}));
  command->footer("Example:\n  source <(lowspot completion bash)");
  command->callback([&app, &context, shell] {
    context.chosen = [&app, shell] {
      const std::vector<CommandText> texts = command_texts(app);
      if (*shell == "bash") bash(texts);
      if (*shell == "zsh") zsh(texts);
      if (*shell == "fish") fish(texts);
      return done;
    };
  });

  CLI::App* names =
      app.add_subcommand(names_command, "The designs of the yard in a line of words, for completion")
          ->group("");
  const auto words = std::make_shared<std::vector<std::string>>();
  names->add_option("WORD", *words, "the words of the line so far");
  names->callback([&context, words] {
    context.chosen = [&context, words] {
      const std::string yard = yard_in(*words);
      if (yard.empty()) return done;
      try {
        for (const site::Design& design : read_yard(context, yard).designs)
          std::printf("%s\n", design.name.c_str());
      } catch (const InputError&) { // said by the command itself, once the line is whole
      }
      return done;
    };
  });
}

} // namespace lowspot::cli
