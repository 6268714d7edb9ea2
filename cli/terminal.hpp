// What the terminal can show: colour only where it helps and is wanted, progress only where someone watches.
#pragma once
#include <chrono>
#include <mutex>
#include <string>

namespace lowspot::cli {

// Colour is used on a terminal unless NO_COLOR is set or TERM is "dumb". Words carry the meaning by
// themselves.
class Terminal {
public:
  Terminal();
  std::string bold(const std::string& text) const;
  std::string warning(const std::string& text) const;  // "warning: ..." in yellow
  std::string error(const std::string& text) const;    // "error: ..." in red
  bool watched() const { return stderr_is_terminal_; } // somebody sees standard error
private:
  bool colour_out_ = false, colour_err_ = false, stderr_is_terminal_ = false;
};

// One line on standard error with the share done and the time left. Safe to call from several threads.
class Progress {
public:
  Progress(std::string doing, bool shown);
  ~Progress();
  void update(double share);
  void again(std::string doing); // from nothing, for the next part of the work

private:
  void clear();
  std::string doing_;
  bool shown_;
  bool drawn_ = false;
  std::chrono::steady_clock::time_point start_, last_;
  std::mutex guard_;
};

// Text broken into lines of at most `width`, continuation lines indented by `indent` spaces.
std::string wrap(const std::string& text, int width, int indent = 0);

// Letters, not bytes: a raised figure or a letter with marks is one.
std::size_t letters(const std::string& text);
// Filled up with spaces to a column of so many letters; a longer text stays whole.
std::string flush_left(const std::string& text, std::size_t width);
std::string flush_right(const std::string& text, std::size_t width);

} // namespace lowspot::cli
