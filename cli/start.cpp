#include <cstdio>
#include <memory>

#include <CLI/CLI.hpp>

#include <lowspot/base/error.hpp>
#include <lowspot/results/output_folder.hpp>

#include "commands.hpp"
#include "start_template.hpp"

namespace lowspot::cli {
namespace {
int start(const Context& context, const std::string& where) {
  namespace fs = std::filesystem;
  const fs::path folder = where;
  for (const char* name : {"site.toml", "levels.csv"})
    if (fs::exists(folder / name))
      throw InputError({(folder / name).string(), 0, ""}, "a file that is already there", "a new folder",
                       "choose another folder, or remove the file if it is not needed");
  std::error_code failed;
  fs::create_directories(folder, failed);
  if (failed)
    throw InputError({folder.string(), 0, ""},
                     "a place where no folder can be made (" + failed.message() + ")",
                     "a folder that can be written", "choose another place");
  results::write_whole_file(folder / "levels.csv", start_levels_text);
  results::write_whole_file(folder / "site.toml", start_site_text);
  if (!context.quiet)
    std::printf("Wrote %s and levels.csv: a yard that runs as it stands.\nChange it into yours, then:\n"
                "  lowspot check %s\n  lowspot compare %s\n",
                (folder / "site.toml").string().c_str(), where.c_str(), where.c_str());
  return done;
}
} // namespace

void add_start(CLI::App& app, Context& context) {
  CLI::App* command = app.add_subcommand("start", "Write a commented site file and levels to begin from");
  const auto where = std::make_shared<std::string>();
  command->add_option("DIR", *where, "folder to make")->required();
  command->add_flag("--quiet", context.quiet, "say nothing");
  command->footer("Example:\n  lowspot start my-yard");
  command->callback(
      [&context, where] { context.chosen = [&context, where] { return start(context, *where); }; });
}

} // namespace lowspot::cli
