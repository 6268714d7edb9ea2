#include <cstdio>
#include <cstdlib>
#include <exception>
#include <new>
#include <stdexcept>
#include <string_view>
#include <vector>

#include <CLI/CLI.hpp>

#include <lowspot/base/error.hpp>
#include <lowspot/ranks/ranks.hpp>
#include <lowspot/study/progress_board.hpp>

#include "argument_fault.hpp"
#include "commands.hpp"
#include "interrupt.hpp"

namespace {

// Reads the command line and does what it asks for. Returns an exit code.
int run(int argc, char** argv, const lowspot::ranks::Ranks& ranks) {
  using namespace lowspot;
  cli::Context context;
  context.ranks = &ranks;
  CLI::App app{"lowspot: where yard water goes, how long it stands, and what a drain would change",
               "lowspot"};
  app.set_version_flag("--version", std::string("lowspot ") + LOWSPOT_VERSION);
  app.require_subcommand(1);
  app.footer(
      "Examples:\n  lowspot start my-yard          write a commented yard to begin from\n"
      "  lowspot check my-yard          say what is wrong, unlikely or assumed\n"
      "  lowspot diagnose my-yard       low spots, what fills them, where they could drain to\n"
      "  lowspot levels my-yard         reduce the rod book, find shots that look wrong\n"
      "  lowspot compare my-yard        run the storm as it is and with each design\n"
      "  lowspot tune my-yard           find the smallest drain that does it\n"
      "  lowspot storms my-yard         what heavier storms do, and which one is too much\n"
      "  lowspot yearlater my-yard --rain gauge.csv --stood \"long bed = 30 hr\"  was it as promised?\n"
      "  lowspot cutsheet my-yard --hi 104.32  how deep to dig, station by station\n"
      "  lowspot takeoff my-yard        quantities to order\n"
      "  lowspot hosetest my-yard       predict the hose test at hand-over\n"
      "  lowspot remedies my-yard       what the next size, stone, cap or depth would buy\n"
      "  lowspot catalog pipes          list what a site file can name\n"
      "Planning aid, not a survey or an engineer's certificate. Have utilities located before you dig.");
  cli::add_start(app, context);
  cli::add_check(app, context);
  cli::add_diagnose(app, context);
  cli::add_levels(app, context);
  cli::add_compare(app, context);
  cli::add_tune(app, context);
  cli::add_yearlater(app, context);
  cli::add_storms(app, context);
  cli::add_cutsheet(app, context);
  cli::add_takeoff(app, context);
  cli::add_hosetest(app, context);
  cli::add_remedies(app, context);
  cli::add_catalog(app, context);
  cli::add_manual(app, context);
  cli::add_completion(app, context);
  try {
    app.parse(argc, argv);
    if (!ranks.leads() && !context.shares_work) return cli::done;
    const int code = context.chosen ? context.chosen() : cli::done;
    if ((std::fflush(stdout) != 0 || std::ferror(stdout) != 0) && !cli::reader_gone())
      throw std::runtime_error("the answer could not be printed; is the disk full?");
    return code;
  } catch (const CLI::CallForHelp& asked) {
    return app.exit(asked);
  } catch (const CLI::CallForVersion& asked) {
    return app.exit(asked);
  } catch (const study::Stopped&) { // of a command that has nothing to keep
    std::fputs("\nStopped by you. Nothing was written.\n", stderr);
    return cli::stopped;
  } catch (const CLI::Error& problem) {
    std::fprintf(stderr, "%s\nSee: lowspot --help\n",
                 context.terminal.error(cli::argument_fault(app, problem, argc, argv)).c_str());
    return cli::bad_input;
  } catch (const InputError& problem) {
    std::fprintf(stderr, "%s\n", context.terminal.error(problem.what()).c_str());
    if (!context.odd_in_site.empty()) std::fputs("Odd besides, and perhaps the cause:\n", stderr);
    for (const std::string& odd : context.odd_in_site)
      std::fprintf(stderr, "  - %s\n", cli::wrap(odd, 4).c_str());
    return cli::bad_input;
  } catch (const std::bad_alloc&) {
    std::fprintf(stderr, "%s\n",
                 context.terminal
                     .error("this computer has not enough memory for it.\n  To mend it: use larger cells "
                            "(--cell), fewer designs at a time (--design) or fewer threads (--threads).")
                     .c_str());
    return cli::bad_input;
  } catch (const std::exception& problem) {
    std::fprintf(stderr, "%s\n",
                 context.terminal.error(std::string("internal fault: ") + problem.what()).c_str());
    return cli::fault;
  }
}

} // namespace

int main(int count, char** given) {
  // "help takeoff" is what people try first: the same as "takeoff --help".
  static char dashes[] = "--help";
  std::vector<char*> words(given, given + count);
  if (count > 1 && std::string_view(given[1]) == "help") {
    words.erase(words.begin() + 1);
    words.push_back(dashes);
  }
  const int argc = static_cast<int>(words.size());
  words.push_back(nullptr);
  char** argv = words.data();
  lowspot::cli::listen_for_stop(false);
  lowspot::ranks::Ranks ranks;
  if (ranks.size() > 1) lowspot::cli::listen_for_stop(true);
  if (!ranks.leads()) {
    // One process speaks; the others would say the same.
    if (!std::freopen("/dev/null", "w", stdout) || !std::freopen("/dev/null", "w", stderr))
      return lowspot::cli::fault;
  }
  const int code = run(argc, argv, ranks);
  const int left = ranks.leave(code, code != lowspot::cli::done && code != lowspot::cli::target_missed);
  // On a full disk the results library still holds a file that it cannot close, and would crash over it at
  // the end.
  if (left != lowspot::cli::bad_input) return left;
  std::fflush(nullptr);
  std::_Exit(left);
}
