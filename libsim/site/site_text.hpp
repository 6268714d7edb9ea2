// From a path to a parsed table: finding the site file, and syntax errors in plain words.
#pragma once
#include <filesystem>
#include <string>

#include <toml++/toml.h>

namespace lowspot::site {

// The site file itself: `path`, or the site.toml in the folder `path`. Throws InputError when there is none.
std::filesystem::path find_site_file(const std::filesystem::path& path);
// Throws InputError with the line and a hint at what is usually wrong there.
toml::table parse_site_text(const std::string& content, const std::string& file_name);
// What is usually wrong with a line that TOML refuses, as one sentence. `before` is the line above it.
std::string syntax_hint(const std::string& line, const std::string& before);

} // namespace lowspot::site
