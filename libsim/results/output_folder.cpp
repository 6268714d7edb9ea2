#include <lowspot/results/output_folder.hpp>

#include <algorithm>
#include <array>
#include <fstream>
#include <system_error>

#include <nlohmann/json.hpp>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/results/delivery.hpp>
#include <lowspot/results/json_tools.hpp>

namespace lowspot::results {
namespace {

namespace fs = std::filesystem;

InputError cannot_write(const fs::path& path, const std::string& why) {
  return InputError(
      {path.string(), 0, ""}, "that it cannot be written (" + why + ")", "a place to write to",
      "check the name, the permissions and the free space, or choose another folder with --out.");
}

// All that is ever written into such a folder. tests/journeys/hostile_test.cpp holds it against what is.
constexpr std::array our_names = {"UNFINISHED.txt", "crew.html",          "cutsheet.csv",
                                  "cutsheet.html",  "diagnosis.html",     "diagnosis.json",
                                  "diagnosis.pdf",  "diagnosis.png",      "gis",
                                  "homeowner.html", "hosetest.csv",       "hosetest.html",
                                  "hosetest.json",  "hydrographs.csv",    "levels.pdf",
                                  "levels.png",     "levels_reduced.csv", "maps",
                                  "permit.html",    "remedies.json",      "report.html",
                                  "results.nc",     "storms.csv",         "storms.html",
                                  "storms.json",    "summary.json",       "takeoff.csv",
                                  "takeoff.html",   "tune.csv",           "tune.html",
                                  "tune.journal",   "tune.json",          "yearlater.html",
                                  "yearlater.json"};

// The site that an earlier summary or our mark speaks of; empty when there is none or it cannot be read as
// ours.
std::string site_named_in(const fs::path& file) {
  std::string text;
  try {
    text = read_text(file);
  } catch (const InputError&) {
    return {};
  }
  const auto parsed = nlohmann::json::parse(text, nullptr, false);
  if (!parsed.is_object()) return {};
  const auto found = parsed.find("site");
  return found != parsed.end() && found->is_string() ? found->get<std::string>() : std::string();
}

// Links would carry what is written, or taken away, out of the folder.
void refuse_links(const fs::path& folder) {
  std::error_code error;
  for (const char* name : our_names)
    if (fs::is_symlink(fs::symlink_status(folder / name, error)))
      throw InputError({(folder / name).string(), 0, ""}, "a link to another place",
                       "a file or folder of its own",
                       "remove the link, or choose another folder with --out.");
}

void refuse_files_of_others(const fs::path& folder) {
  std::error_code error;
  for (const char* name : our_names)
    if (fs::exists(folder / name, error))
      throw InputError(
          {(folder / name).string(), 0, ""}, "a file that results would replace and that is not of them",
          "an empty folder or earlier results", "choose another folder with --out, or move the file away.");
}

bool is_staging(const fs::path& folder) {
  return std::find(folder.begin(), folder.end(), fs::path(staging_name)) != folder.end();
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
  refuse_links(folder);
  const fs::path mark = folder / folder_mark;
  const std::string marked = site_named_in(mark), summarized = site_named_in(folder / "summary.json");
  if (!overwrite) {
    for (const std::string& earlier : {marked, summarized})
      if (!earlier.empty() && earlier != site_name)
        throw InputError({folder.string(), 0, ""}, "results of the site \"" + earlier + "\"",
                         "an empty folder or earlier results of \"" + site_name + "\"",
                         "choose another folder with --out, or remove the old results.");
    if (marked.empty() && summarized.empty()) refuse_files_of_others(folder);
  }
  if (marked == site_name || is_staging(folder)) return;
  try {
    write_whole_file(mark, json_text(Json{{"about", "results of lowspot"}, {"site", site_name}}) + "\n");
  } catch (const InputError&) { // another process of the same run may have been quicker
    if (site_named_in(mark) != site_name) throw;
  }
}

void write_whole_file(const fs::path& path, std::string_view content) {
  {
    std::error_code ignored;
    fs::remove(part_of(path), ignored); // a link of that name would be written through
    std::ofstream out(part_of(path), std::ios::binary | std::ios::trunc);
    if (!out) throw cannot_write(path, "it cannot be opened");
    out.write(content.data(), static_cast<std::streamsize>(content.size()));
    out.flush();
    if (!out) {
      out.close();
      fs::remove(part_of(path), ignored); // half a page helps nobody, and takes the room that is missing
      throw cannot_write(path, "the disk may be full");
    }
  }
  rename_part(path);
}

} // namespace lowspot::results
