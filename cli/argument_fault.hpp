// What is wrong with a command line, in words that say what was found, what was expected and how to mend it.
#pragma once
#include <string>

namespace CLI {
class App;
class Error;
} // namespace CLI

namespace lowspot::cli {

// Of a command line that the parser refused.
std::string argument_fault(const CLI::App& app, const CLI::Error& problem, int argc, char** argv);

} // namespace lowspot::cli
