#include <lowspot/study/journal.hpp>

#include <cstdio>

#include <lowspot/base/error.hpp>

namespace lowspot::study {
namespace {
constexpr const char* head = "lowspot journal 3 ";
}

Fingerprint& Fingerprint::add(std::string_view bytes) {
  for (const char byte : bytes) {
    state_ ^= static_cast<unsigned char>(byte);
    state_ *= 1099511628211ull;
  }
  // A mark between parts, so that "ab", "c" and "a", "bc" differ.
  state_ ^= 0x1f;
  state_ *= 1099511628211ull;
  return *this;
}

Fingerprint& Fingerprint::add(double value) {
  return add(std::string_view(reinterpret_cast<const char*>(&value), sizeof value));
}

std::string Fingerprint::text() const {
  char digits[17];
  std::snprintf(digits, sizeof digits, "%016llx", static_cast<unsigned long long>(state_));
  return digits;
}

Journal::Journal(std::filesystem::path file, const std::string& study) : file_(std::move(file)) {
  std::uintmax_t whole = 0; // bytes up to the last line that is complete
  {
    std::ifstream in(file_, std::ios::binary);
    std::string line;
    bool first = true;
    while (in && std::getline(in, line) && !in.eof()) {
      if (first) {
        first = false;
        if (line != head + study) {
          other_study_ = line.rfind(head, 0) == 0;
          break;
        }
      } else if (const std::size_t space = line.find(' '); space != std::string::npos) {
        results_[line.substr(0, space)] = line.substr(space + 1);
      }
      whole += line.size() + 1;
    }
  }
  kept_ = static_cast<int>(results_.size());
  std::error_code ignored;
  if (whole > 0) std::filesystem::resize_file(file_, whole, ignored);
  out_.open(file_, std::ios::binary | (whole > 0 ? std::ios::app : std::ios::trunc));
  if (whole == 0) out_ << head << study << '\n' << std::flush;
  if (!out_)
    throw InputError({file_.string(), 0, ""}, "a file that cannot be written",
                     "a place to keep finished runs",
                     "Choose another folder with --out, or make room on the disk.");
}

std::optional<std::string> Journal::find(const std::string& key) const {
  const auto known = results_.find(key);
  if (known == results_.end()) return std::nullopt;
  return known->second;
}

void Journal::add(const std::string& key, const std::string& result) {
  results_[key] = result;
  out_ << key + " " + result + "\n" << std::flush;
}

} // namespace lowspot::study
