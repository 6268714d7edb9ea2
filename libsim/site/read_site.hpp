// Reads a site file.
#pragma once
#include <filesystem>

#include <lowspot/catalog/catalog.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::site {

// Reads `path` (a site.toml or the folder that holds one), resolves catalogue names to figures and fills in
// defaults, listing each in Site::assumptions. Implausible figures add to Site::warnings.
// Throws InputError naming file, line and key for anything that cannot be used.
Site read_site(const std::filesystem::path& path, const catalog::Catalog& catalog);

} // namespace lowspot::site
