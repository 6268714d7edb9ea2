#include "run_options.hpp"

#include <CLI/CLI.hpp>

#include <lowspot/base/error.hpp>
#include <lowspot/base/quantity.hpp>
#include <lowspot/site/site.hpp>

#include "commands.hpp"

namespace lowspot::cli {

void add_cell_option(CLI::App& command, std::string& cell, const std::string& instead_of) {
  command.add_option("--cell", cell, "cell size" + instead_of);
}

double cell_size(const std::string& text) {
  if (text.empty()) return site::not_given;
  const ParsedQuantity parsed = parse_quantity(text, Dimension::length);
  if (!parsed.ok || parsed.value <= 0)
    throw InputError({"", 0, "--cell"}, "\"" + text + "\"", "a length with a unit",
                     "write it like --cell \"6 in\"");
  return parsed.value;
}

void add_method_option(CLI::App& command, std::string& method, const std::string& choice) {
  command.add_option("--method", method, "how water runs over the ground: " + choice)
      ->check(CLI::IsMember({"dynamic", "routed"}));
}

CLI::Option* add_threads_option(CLI::App& command, int& threads, const std::string& what) {
  constexpr int most = 1024;
  return command.add_option("--threads", threads, what + " (default: one a core)")
      ->check(CLI::Range(0, most));
}

void add_plausible_options(CLI::App& command, int& draws, std::uint64_t& seed, const std::string& what) {
  constexpr int most = 10000;
  command.add_option("--plausible", draws, "plausible soils " + what)->check(CLI::Range(0, most));
  command.add_option("--seed", seed, "of the plausible soils: the same seed draws the same soils");
}

void add_answer_options(CLI::App& command, Context& context, const std::string& quiet,
                        const std::string& json) {
  command.add_flag("--json", context.json, json);
  command.add_flag("--quiet", context.quiet, quiet);
}

} // namespace lowspot::cli
