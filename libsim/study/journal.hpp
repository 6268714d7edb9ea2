// Finished runs of a long study, kept as they come so that an interrupted study goes on where it stopped.
#pragma once
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <map>
#include <optional>
#include <string>
#include <string_view>

namespace lowspot::study {

// FNV-1a of 64 bits (Fowler, Noll and Vo 1991), as 16 hexadecimal digits: names content, guards nothing.
class Fingerprint {
public:
  // More of what the key is made of; the key so far, as hexadecimal digits.
  Fingerprint& add(std::string_view bytes);
  Fingerprint& add(double value);
  std::string text() const;

private:
  std::uint64_t state_ = 14695981039346656037ull;
};

// One line a run: its key and its result. Not for several threads at once.
class Journal {
public:
  // Reads what is there. `study` names what all runs have in common: a journal of another study is begun
  // anew. A last line that was cut short is dropped. Throws InputError when the file cannot be written.
  Journal(std::filesystem::path file, const std::string& study);
  std::optional<std::string> find(const std::string& key) const;
  // Written through before it returns, so that a killed study has it.
  void add(const std::string& key, const std::string& result);
  bool other_study() const { return other_study_; } // there was one, of another study
  int kept() const { return kept_; }                // results that were there

private:
  std::filesystem::path file_;
  std::ofstream out_;
  std::map<std::string, std::string> results_;
  bool other_study_ = false;
  int kept_ = 0;
};

} // namespace lowspot::study
