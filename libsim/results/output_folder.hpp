// The folder that a comparison is written to: made when missing, guarded against another yard's results.
#pragma once
#include <filesystem>
#include <string>
#include <string_view>

namespace lowspot::results {

// Makes the folder and marks it. Throws InputError when it cannot be made or is a file, when a link stands
// where results go, or, unless `overwrite`, for results of another site or files that are not results.
void prepare_output_folder(const std::filesystem::path& folder, const std::string& site_name,
                           bool overwrite = false);

// Writes a file so that a reader never sees half of it: `path`.part first, then renamed. Throws InputError.
void write_whole_file(const std::filesystem::path& path, std::string_view content);

// `path` with ".part" appended: where a file grows before it is renamed.
std::filesystem::path part_of(const std::filesystem::path& path);
// Gives a finished .part file its name. Throws InputError.
void rename_part(const std::filesystem::path& path);

} // namespace lowspot::results
