// A set of result files that belong together reaches its folder as one: a reader, or a program killed at any
// moment, never leaves half of a set without a sign of it.
#pragma once
#include <filesystem>
#include <functional>

namespace lowspot::results {

// Files are written to staging() first. deliver() then puts a note (UNFINISHED.txt) into the folder, moves
// each file over its older one, and takes the note away: the note stands only while files of two runs can lie
// side by side, which takes milliseconds. Killed before that, the older results are whole; the next delivery
// clears what was staged. Other files in the folder stay as they are.
class Delivery {
public:
  // Makes folder/.unfinished, empty. The folder itself is made when missing. Throws InputError when it cannot
  // be.
  explicit Delivery(std::filesystem::path folder);
  Delivery(const Delivery&) = delete;
  Delivery& operator=(const Delivery&) = delete;
  ~Delivery(); // takes what was staged and not delivered away
  const std::filesystem::path& staging() const { return staging_; }
  // `clear`: takes out of the folder what an older run left and this one does not write; it is called once
  // the note is there. Throws InputError when a file cannot be moved; the note is then left.
  void deliver(const std::function<void(const std::filesystem::path&)>& clear = {});

private:
  std::filesystem::path folder_, staging_;
};

// Where a set of files grows before it is delivered, and the file by which a folder of results is known, with
// the name of its site.
inline constexpr const char *staging_name = ".unfinished", *folder_mark = ".lowspot";

// The note's name, for readers that want to look.
inline constexpr const char* unfinished_note = "UNFINISHED.txt";

} // namespace lowspot::results
