// A table written to a scratch file for the time of a test.
#pragma once
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <string>

namespace sample {

class File {
public:
  explicit File(const std::string& content, const std::string& name = "table.csv")
      : folder(std::filesystem::temp_directory_path() / ("lowspot-rain-" + std::to_string(::getpid()))),
        path(folder / name) {
    std::filesystem::create_directories(folder);
    std::ofstream(path, std::ios::binary) << content;
  }
  ~File() {
    std::error_code ignored;
    std::filesystem::remove_all(folder, ignored);
  }
  File(const File&) = delete;
  File& operator=(const File&) = delete;
  std::filesystem::path folder;
  std::filesystem::path path;
};

} // namespace sample
