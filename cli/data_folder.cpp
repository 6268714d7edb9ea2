#include <cstdlib>

#include <lowspot/base/error.hpp>

#include "commands.hpp"

namespace lowspot::cli {

std::filesystem::path catalog_folder() {
  namespace fs = std::filesystem;
  if (const char* chosen = std::getenv("LOWSPOT_DATA"); chosen && *chosen)
    return fs::path(chosen) / "catalog";
  std::error_code ignored;
  const fs::path program = fs::read_symlink("/proc/self/exe", ignored);
  // A package is built with one prefix and may be unpacked at another.
  std::string looked_in;
  for (const fs::path& folder :
       {program.parent_path().parent_path() / "share" / "lowspot", fs::path(LOWSPOT_INSTALLED_DATA),
        fs::path("/usr/share/lowspot"), fs::path(LOWSPOT_SOURCE_DATA)}) {
    if (fs::is_directory(folder / "catalog", ignored)) return folder / "catalog";
    looked_in += (looked_in.empty() ? "" : ", ") + folder.string();
  }
  throw InputError({"", 0, "LOWSPOT_DATA"}, "no catalogue in " + looked_in,
                   "the folder of pipes, soils and covers",
                   "install lowspot anew, or set LOWSPOT_DATA to the folder that holds 'catalog'");
}

} // namespace lowspot::cli
