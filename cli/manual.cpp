#include <cstdio>

#include <CLI/CLI.hpp>

#include "command_text.hpp"
#include "commands.hpp"

namespace lowspot::cli {
namespace {

// Text for troff: its own signs kept from it, and no line that begins with a control character.
std::string plain(const std::string& text) {
  std::string result;
  bool at_start = true;
  for (char c : text) {
    if (at_start && (c == '.' || c == '\'')) result += "\\&";
    if (c == '\\')
      result += "\\e";
    else if (c == '-')
      result += "\\-";
    else
      result += c;
    at_start = c == '\n';
  }
  return result;
}

std::string synopsis(const CommandText& command) {
  std::string text = "lowspot " + command.name + " [options]";
  for (const OptionText& option : command.options)
    if (option.positional) text += " " + option.names[0] + (option.repeats ? "..." : "");
  return text;
}

void print_options(const CommandText& command) {
  for (const OptionText& option : command.options) {
    std::string names;
    for (const std::string& name : option.names) names += (names.empty() ? "" : ", ") + plain(name);
    if (option.takes_value && !option.positional) {
      names += " ";
      if (option.choices.empty()) names += "VALUE";
      for (std::size_t k = 0; k < option.choices.size(); ++k)
        names += (k > 0 ? "|" : "") + plain(option.choices[k]);
    }
    std::printf(".TP\n.B %s\n%s\n", names.c_str(), plain(option.meaning).c_str());
  }
}

// Examples keep their lines.
void print_footer(const std::string& footer) {
  if (!footer.empty()) std::printf(".PP\n.nf\n%s\n.fi\n", plain(footer).c_str());
}

int manual(const CLI::App& app) {
  const std::vector<CommandText> texts = command_texts(app);
  const CommandText& program = texts.front();
  const std::string& title = program.meaning;
  const std::size_t colon = title.find(": ");
  const std::string meaning = colon == std::string::npos ? title : title.substr(colon + 2);
  std::printf(".TH LOWSPOT 1 \"\" \"lowspot %s\" \"User commands\"\n", LOWSPOT_VERSION);
  std::printf(".SH NAME\nlowspot \\- %s\n.SH SYNOPSIS\n", plain(meaning).c_str());
  for (std::size_t k = 1; k < texts.size(); ++k)
    std::printf("%s.B %s\n", k > 1 ? ".br\n" : "", plain(synopsis(texts[k])).c_str());
  std::printf(".SH OPTIONS\n");
  print_options(program);
  std::printf(".SH COMMANDS\n");
  for (std::size_t k = 1; k < texts.size(); ++k) {
    std::printf(".SS %s\n%s\n", plain(synopsis(texts[k])).c_str(), plain(texts[k].meaning).c_str());
    print_options(texts[k]);
    print_footer(texts[k].footer);
  }
  std::printf(".SH EXIT STATUS\n0 done; 1 internal fault; 2 bad input; 3 the target is not met (with "
              "\\-\\-strict); 130 stopped by the user.\n");
  std::printf(".SH ENVIRONMENT\n.TP\n.B NO_COLOR\nno colour on the terminal\n.TP\n.B LOWSPOT_DATA\nfolder "
              "that holds the catalogue, in place of the installed one\n.SH EXAMPLES\n");
  print_footer(program.footer);
  return done;
}

} // namespace

void add_manual(CLI::App& app, Context& context) {
  CLI::App* command =
      app.add_subcommand("manual", "All of this help as one manual page, for man: lowspot manual | man -l -");
  command->callback([&app, &context] { context.chosen = [&app] { return manual(app); }; });
}

} // namespace lowspot::cli
