#include "terminal.hpp"

#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <sstream>
#include <utility>

namespace lowspot::cli {
namespace {
constexpr int most_read = 96;         // columns: longer lines are hard to follow back
constexpr std::size_t least_wide = 3; // columns of a name before what is told of it begins

bool colour_wanted() {
  const char* no_colour = std::getenv("NO_COLOR");
  const char* term = std::getenv("TERM");
  return !(no_colour && *no_colour) && !(term && std::string(term) == "dumb");
}

// Columns of the terminal behind this stream, or nought where there is none.
int columns_of(int stream) {
  if (const char* columns = std::getenv("COLUMNS")) {
    const int width = std::atoi(columns);
    if (width > 20) return width;
  }
  winsize size{};
  return isatty(stream) && ioctl(stream, TIOCGWINSZ, &size) == 0 && size.ws_col > 20 ? size.ws_col : 0;
}

int terminal_width() {
  const int columns = columns_of(STDERR_FILENO);
  return columns > 0 ? columns : 80;
}

// Letters that take a column: what turns colour on and off takes none.
std::size_t shown(const std::string& text) {
  std::size_t columns = letters(text);
  for (auto at = text.find("\x1b["); at != std::string::npos; at = text.find("\x1b[", at + 1)) {
    const auto end = text.find('m', at);
    if (end != std::string::npos) columns -= end - at + 1;
  }
  return columns;
}

std::string time_left(double seconds) {
  if (seconds < 90) return std::to_string(std::lround(std::max(1.0, seconds))) + " s left";
  if (seconds < 5400) return std::to_string(std::lround(seconds / 60)) + " min left";
  return std::to_string(std::lround(seconds / 3600)) + " h left";
}
} // namespace

Terminal::Terminal()
    : colour_out_(colour_wanted() && isatty(STDOUT_FILENO)),
      colour_err_(colour_wanted() && isatty(STDERR_FILENO)), stderr_is_terminal_(isatty(STDERR_FILENO)) {}

std::string Terminal::bold(const std::string& text) const {
  return colour_out_ ? "\x1b[1m" + text + "\x1b[0m" : text;
}
std::string Terminal::warning(const std::string& text) const {
  return (colour_err_ ? "\x1b[33mwarning:\x1b[0m " : "warning: ") + text;
}
std::string Terminal::error(const std::string& text) const {
  return (colour_err_ ? "\x1b[1;31merror:\x1b[0m " : "error: ") + text;
}

Progress::Progress(std::string doing, bool shown)
    : doing_(std::move(doing)), shown_(shown), start_(std::chrono::steady_clock::now()), last_(start_) {}

Progress::~Progress() {
  clear();
}

void Progress::clear() {
  if (drawn_) std::fputs("\r\x1b[K", stderr);
  drawn_ = false;
}

void Progress::update(double share) {
  if (!shown_) return;
  const std::lock_guard<std::mutex> lock(guard_);
  const auto now = std::chrono::steady_clock::now();
  if (now - last_ < std::chrono::milliseconds(150)) return;
  last_ = now;
  const double spent = std::chrono::duration<double>(now - start_).count();
  std::string text = doing_ + "  " + std::to_string(static_cast<int>(100 * share)) + " %";
  if (share > 0.02 && spent > 1) text += "  " + time_left(spent * (1 - share) / share);
  const int bar = std::min(30, terminal_width() - static_cast<int>(text.size()) - 4);
  if (bar > 5) {
    const int full = static_cast<int>(std::lround(bar * share));
    text += "  [" + std::string(full, '=') + std::string(bar - full, ' ') + "]";
  }
  std::fputs(("\r" + text + "\x1b[K").c_str(), stderr);
  std::fflush(stderr);
  drawn_ = true;
}

void Progress::again(std::string doing) {
  const std::lock_guard<std::mutex> lock(guard_);
  doing_ = std::move(doing);
  start_ = last_ = std::chrono::steady_clock::now();
}

int page_width() {
  static const int columns = columns_of(STDOUT_FILENO);
  return columns > 0 ? std::min(columns, most_read) : most_read;
}

std::string wrap(const std::string& text, int indent, int first) {
  std::istringstream words(text);
  std::string word, result, line;
  int at = first < 0 ? indent : first;
  while (words >> word) {
    const auto wide = static_cast<int>(shown(line) + 1 + shown(word));
    if (!line.empty() && at + wide > page_width()) {
      result += line + "\n" + std::string(indent, ' ');
      line.clear();
      at = indent;
    }
    line += (line.empty() ? "" : " ") + word;
  }
  return result + line;
}

std::size_t letters(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(
      text.begin(), text.end(), [](char byte) { return (static_cast<unsigned char>(byte) & 0xc0) != 0x80; }));
}

std::string flush_left(const std::string& text, std::size_t width) {
  const std::size_t long_as = letters(text);
  return text + std::string(long_as < width ? width - long_as : 0, ' ');
}

std::string flush_right(const std::string& text, std::size_t width) {
  const std::size_t long_as = letters(text);
  return std::string(long_as < width ? width - long_as : 0, ' ') + text;
}

void Rows::add(const std::string& name, const std::string& told) {
  widest_ = std::max(widest_, letters(name));
  longest_ = std::max(longest_, letters(told));
  rows_.emplace_back(name, told);
}

std::string Rows::line(std::size_t row) const {
  static const int columns = columns_of(STDOUT_FILENO);
  const auto& [name, told] = rows_[row];
  const std::string margin(indent_, ' ');
  // Where the names leave no room for what is told, those that are too long stand on a line of their own.
  const auto fixed = static_cast<std::size_t>(indent_) + 1 + longest_,
             page = static_cast<std::size_t>(columns);
  std::size_t wide = widest_;
  if (columns > 0 && fixed + wide > page) wide = page > fixed + least_wide ? page - fixed : least_wide;
  std::string text = margin;
  if (letters(name) <= wide)
    text += flush_left(name, wide) + " " + told;
  else
    text += wrap(name, indent_) + "\n" + margin + std::string(wide + 1, ' ') + told;
  return text.erase(text.find_last_not_of(" \n") + 1);
}

std::string Rows::text() const {
  std::string text;
  for (std::size_t row = 0; row < rows_.size(); ++row) text += line(row) + "\n";
  return text;
}

} // namespace lowspot::cli
