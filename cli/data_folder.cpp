#include <cstdlib>

#include "commands.hpp"

namespace lowspot::cli {

std::filesystem::path catalog_folder() {
  namespace fs = std::filesystem;
  if (const char* chosen = std::getenv("LOWSPOT_DATA")) return fs::path(chosen) / "catalog";
  std::error_code ignored;
  const fs::path program = fs::read_symlink("/proc/self/exe", ignored);
  for (const fs::path& folder : {program.parent_path().parent_path() / "share" / "lowspot",
                                 fs::path(LOWSPOT_INSTALLED_DATA), fs::path(LOWSPOT_SOURCE_DATA)})
    if (fs::is_directory(folder / "catalog", ignored)) return folder / "catalog";
  return fs::path(LOWSPOT_SOURCE_DATA) / "catalog";
}

} // namespace lowspot::cli
