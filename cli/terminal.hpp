// What the terminal can show: colour only where it helps and is wanted, progress only where someone watches.
#pragma once
#include <chrono>
#include <mutex>
#include <string>
#include <utility>
#include <vector>

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

// Columns that text for people may take: those of the terminal that shows it, or of COLUMNS, and never more
// than can be read at ease.
int page_width();

// Text broken into lines that end within page_width(). It begins in column `first` (that of `indent` where it
// is left out); the lines after it are indented by `indent` spaces.
std::string wrap(const std::string& text, int indent = 0, int first = -1);

// Letters, not bytes: a raised figure or a letter with marks is one.
std::size_t letters(const std::string& text);
// Filled up with spaces to a column of so many letters; a longer text stays whole.
std::string flush_left(const std::string& text, std::size_t width);
std::string flush_right(const std::string& text, std::size_t width);

// Rows of a name and of what is told of it. Where some row is wider than the terminal, names too long stand
// on a line of their own with what is told below, so that columns stay aligned and no line breaks within a
// figure. What goes into a file or to another program stays one row a line.
class Rows {
public:
  explicit Rows(int indent = 2, std::size_t least = 0) : indent_(indent), widest_(least) {}
  void add(const std::string& name, const std::string& told); // what is told is laid out in columns already
  std::string line(std::size_t row) const;                    // without an end of line
  std::string text() const;                                   // all rows, each with its end of line

private:
  int indent_;
  std::size_t widest_, longest_ = 0; // letters of the names, of what is told
  std::vector<std::pair<std::string, std::string>> rows_;
};

} // namespace lowspot::cli
