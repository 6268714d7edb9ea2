#include <lowspot/results/delivery.hpp>

#include <algorithm>
#include <vector>

#include <lowspot/base/error.hpp>
#include <lowspot/results/output_folder.hpp>

namespace lowspot::results {
namespace {

namespace fs = std::filesystem;

void must(const std::error_code& error, const fs::path& path) {
  if (error)
    throw InputError(
        {path.string(), 0, ""}, "that it cannot be written (" + error.message() + ")", "a place to write to",
        "check the name, the permissions and the free space, or choose another folder with --out.");
}

} // namespace

Delivery::Delivery(fs::path folder) : folder_(std::move(folder)), staging_(folder_ / staging_name) {
  std::error_code error;
  fs::remove_all(staging_, error);
  fs::create_directories(staging_, error);
  must(error, staging_);
}

Delivery::~Delivery() {
  std::error_code ignored;
  fs::remove_all(staging_, ignored);
}

void Delivery::deliver(const std::function<void(const fs::path&)>& clear) {
  std::vector<fs::path> files;
  for (const fs::directory_entry& entry : fs::recursive_directory_iterator(staging_))
    if (entry.is_regular_file()) files.push_back(entry.path().lexically_relative(staging_));
  std::sort(files.begin(), files.end());
  write_whole_file(folder_ / unfinished_note,
                   "The files in this folder are of two different runs: the program was stopped while it "
                   "replaced the older ones.\nRun it again; this note then goes away.\n");
  if (clear) clear(folder_);
  std::error_code error;
  for (const fs::path& file : files) {
    for (fs::path above = file.parent_path(); !above.empty(); above = above.parent_path())
      if (fs::is_symlink(fs::symlink_status(folder_ / above, error)))
        throw InputError({(folder_ / above).string(), 0, ""}, "a link to another place", "a folder",
                         "remove the link, or choose another folder with --out.");
    fs::create_directories((folder_ / file).parent_path(), error);
    must(error, folder_ / file);
    fs::rename(staging_ / file, folder_ / file, error);
    must(error, folder_ / file);
  }
  fs::remove(folder_ / unfinished_note, error);
  must(error, folder_ / unfinished_note);
}

} // namespace lowspot::results
