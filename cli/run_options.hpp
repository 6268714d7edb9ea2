// Options that several commands share, with one wording and one range of values for all of them.
#pragma once
#include <cstdint>
#include <string>

namespace CLI {
class App;
class Option;
} // namespace CLI

namespace lowspot::cli {

struct Context;

// --cell. instead_of: what the command takes where it is not given, in words.
void add_cell_option(CLI::App& command, std::string& cell,
                     const std::string& instead_of = " instead of the site file's, such as \"1 ft\"");
// The cell size of --cell [m], or site::not_given where it is empty. Throws InputError.
double cell_size(const std::string& text);
// --method. choice: the two methods as the command offers them, in words.
void add_method_option(CLI::App& command, std::string& method,
                       const std::string& choice = "dynamic, or routed (quicker, approximate)");
// --threads; 0: one a core.
CLI::Option* add_threads_option(CLI::App& command, int& threads,
                                const std::string& what = "runs side by side");
// --plausible and --seed. what: which soils are drawn, and how many where it is not given.
void add_plausible_options(CLI::App& command, int& draws, std::uint64_t& seed, const std::string& what);
// --json and --quiet. quiet: what is then not said.
void add_answer_options(CLI::App& command, Context& context, const std::string& quiet = "no progress",
                        const std::string& json = "the answer as JSON on standard output");

} // namespace lowspot::cli
