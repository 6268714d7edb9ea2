// The commands of the program: each adds itself to the command line and runs when it was asked for.
#pragma once
#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "terminal.hpp"

namespace CLI {
class App;
}

namespace lowspot::ranks {
class Ranks;
}

namespace lowspot::cli {

// Exit codes: 0 done; 1 internal fault; 2 bad input; 3 the target is not met (only with --strict);
// 130 stopped by the user.
enum Exit { done = 0, fault = 1, bad_input = 2, target_missed = 3, stopped = 130 };

struct Context {
  Terminal terminal;
  bool json = false;                    // the answer as JSON on standard output, nothing else there
  bool quiet = false;                   // no progress, no hints
  std::function<int()> chosen;          // set by the command that was asked for
  std::vector<std::string> odd_in_site; // warnings of the site file, once it is read
  // The processes of this run, see ranks/ranks.hpp. Those that do not lead say and write nothing.
  const ranks::Ranks* ranks = nullptr;
  bool shares_work = false; // the command hands out jobs; others are run by the process that leads alone
};

void add_start(CLI::App& app, Context& context);
void add_check(CLI::App& app, Context& context);
void add_diagnose(CLI::App& app, Context& context);
void add_levels(CLI::App& app, Context& context);
void add_compare(CLI::App& app, Context& context);
void add_tune(CLI::App& app, Context& context);
void add_yearlater(CLI::App& app, Context& context);
void add_storms(CLI::App& app, Context& context);
void add_cutsheet(CLI::App& app, Context& context);
void add_takeoff(CLI::App& app, Context& context);
void add_hosetest(CLI::App& app, Context& context);
void add_remedies(CLI::App& app, Context& context);
void add_catalog(CLI::App& app, Context& context);
void add_manual(CLI::App& app, Context& context);
void add_completion(CLI::App& app, Context& context);

// The folder of the catalogue: LOWSPOT_DATA, else where the program was installed, else the source tree.
std::filesystem::path catalog_folder();

} // namespace lowspot::cli
