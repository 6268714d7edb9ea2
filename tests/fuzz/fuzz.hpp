// What all fuzz targets share: the bytes as a file, and the one kind of failure a reader may answer with.
#pragma once
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>
#include <unistd.h>

#include <lowspot/base/error.hpp>

namespace fuzz {

// A folder of this process in memory. The process works in it and names its files without it, so that what a
// reader sees, and with it the search, is the same each time.
inline const std::filesystem::path& folder() {
  static const std::filesystem::path path = [] {
    const std::filesystem::path made = "/dev/shm/lowspot_fuzz_" + std::to_string(getpid());
    std::filesystem::create_directories(made);
    std::filesystem::current_path(made);
    std::atexit([] {
      std::error_code ignored;
      std::filesystem::remove_all(folder(), ignored);
    });
    return made;
  }();
  return path;
}

inline std::filesystem::path file(const std::string& name, const std::uint8_t* data, std::size_t size) {
  folder();
  const std::filesystem::path path = name;
  std::ofstream(path, std::ios::binary)
      .write(reinterpret_cast<const char*>(data), static_cast<std::streamsize>(size));
  return path;
}

// Bad input is refused with InputError; anything else that is thrown is a fault of ours and stops the target.
template <class Read>
int reads(Read read) {
  try {
    read();
  } catch (const lowspot::InputError&) {
  }
  return 0;
}

} // namespace fuzz
