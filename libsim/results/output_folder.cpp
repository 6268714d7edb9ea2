#include <lowspot/results/output_folder.hpp>

#include <fstream>
#include <iterator>
#include <system_error>

#include <nlohmann/json.hpp>

#include <lowspot/base/error.hpp>

namespace lowspot::results {
namespace {

namespace fs = std::filesystem;

InputError cannot_write(const fs::path& path, const std::string& why) {
  return InputError(
      {path.string(), 0, ""}, "that it cannot be written (" + why + ")", "a place to write to",
      "check the name, the permissions and the free space, or choose another folder with --out.");
}

// The site that an earlier summary speaks of; empty when there is none or it cannot be read as ours.
std::string site_of_earlier_summary(const fs::path& summary) {
  std::ifstream in(summary, std::ios::binary);
  if (!in) return {};
  const auto parsed = nlohmann::json::parse(in, nullptr, false);
  if (!parsed.is_object()) return {};
  const auto found = parsed.find("site");
  return found != parsed.end() && found->is_string() ? found->get<std::string>() : std::string();
}

} // namespace

fs::path part_of(const fs::path& path) {
  fs::path part = path;
  part += ".part";
  return part;
}

void rename_part(const fs::path& path) {
  std::error_code error;
  fs::rename(part_of(path), path, error);
  if (error) throw cannot_write(path, error.message());
}

void prepare_output_folder(const fs::path& folder, const std::string& site_name, bool overwrite) {
  std::error_code error;
  if (fs::exists(folder, error) && !fs::is_directory(folder, error))
    throw InputError({folder.string(), 0, ""}, "a file", "a folder",
                     "choose another name with --out, or move the file away.");
  fs::create_directories(folder, error);
  if (error) throw cannot_write(folder, error.message());
  if (overwrite) return;
  const std::string earlier = site_of_earlier_summary(folder / "summary.json");
  if (!earlier.empty() && earlier != site_name)
    throw InputError({folder.string(), 0, ""}, "results of the site \"" + earlier + "\"",
                     "an empty folder or earlier results of \"" + site_name + "\"",
                     "choose another folder with --out, or remove the old results.");
}

void write_whole_file(const fs::path& path, std::string_view content) {
  {
    std::ofstream out(part_of(path), std::ios::binary | std::ios::trunc);
    if (!out) throw cannot_write(path, "it cannot be opened");
    out.write(content.data(), static_cast<std::streamsize>(content.size()));
    out.flush();
    if (!out) throw cannot_write(path, "the disk may be full");
  }
  rename_part(path);
}

} // namespace lowspot::results
