#include <lowspot/gis/ascii_grid.hpp>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <fstream>
#include <map>
#include <string>
#include <vector>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>

namespace lowspot::gis {
namespace {

const std::vector<std::string> keywords = {"ncols",     "nrows",    "xllcorner", "yllcorner", "xllcenter",
                                           "yllcenter", "cellsize", "dx",        "dy",        "nodata_value"};
constexpr std::size_t longest_word = 60; // no number and no keyword is longer

// The words of a text one by one, with the line each stands on; of a longer word only its beginning.
class Words {
public:
  explicit Words(const std::filesystem::path& path) : stream_(path, std::ios::binary), piece_(1 << 18) {}

  // False at the end of the file. `word` stays valid until the next call.
  bool next(std::string& word) {
    word.clear();
    for (int letter = take(); letter >= 0; letter = take()) {
      const bool space = letter == ' ' || (letter >= '\t' && letter <= '\r');
      if (space && !word.empty()) {
        --at_; // the line end belongs to the next word
        return true;
      }
      if (letter == '\n') ++line_;
      if (!space) word += static_cast<char>(letter);
      if (word.size() > longest_word) return true;
    }
    return !word.empty();
  }
  int line() const { return line_; }

private:
  int take() {
    if (at_ == filled_) {
      stream_.read(piece_.data(), static_cast<std::streamsize>(piece_.size()));
      filled_ = static_cast<std::size_t>(stream_.gcount());
      at_ = 0;
      if (filled_ == 0) return -1;
    }
    return static_cast<unsigned char>(piece_[at_++]);
  }

  std::ifstream stream_;
  std::vector<char> piece_;
  std::size_t at_ = 0, filled_ = 0;
  int line_ = 1;
};

// A number as such files hold it: with a point or a decimal comma, or one of the words for "no number".
bool is_number(std::string& word, double& value) {
  if (word.size() > longest_word) return false;
  const std::size_t comma = word.find(',');
  if (comma != std::string::npos) word[comma] = '.';
  const char* first = word.data() + (word[0] == '+' && !word.starts_with("+-") ? 1 : 0);
  const char* last = word.data() + word.size();
  const auto read = std::from_chars(first, last, value);
  if (read.ec == std::errc::result_out_of_range && read.ptr == last) return true; // zero or a filler
  if (read.ec == std::errc() && read.ptr == last) return true;
  value = std::nan("");
  return word.find(".#") != std::string::npos && word.size() < 10; // -1.#IND, 1.#QNAN
}

std::string in_quotes(const std::string& word) {
  std::string text;
  for (const char letter : word.substr(0, 40)) text += letter >= ' ' && letter < 127 ? letter : '?';
  return "\"" + text + (word.size() > 40 ? "...\"" : "\"");
}

struct Entry {
  double value = 0;
  std::string text;
  int line = 0;
};
using Header = std::map<std::string, Entry>;

InputError problem(const std::string& file, int line, const std::string& key, const std::string& found,
                   const std::string& expected) {
  return InputError({file, line, key}, found, expected,
                    "save the heights again, as GeoTIFF if the program that wrote them can.");
}

// Reads pairs of keyword and number up to the first height, which is left in `word`.
Header read_header(Words& words, std::string& word, const std::string& file) {
  Header header;
  for (bool more = words.next(word); more; more = words.next(word)) {
    const std::string key = lower(word);
    if (std::find(keywords.begin(), keywords.end(), key) == keywords.end()) {
      double height = 0;
      if (is_number(word, height)) return header;
      const std::string near = nearest(key, keywords);
      throw problem(file, words.line(), "", in_quotes(word),
                    near.empty() ? "ncols, nrows and the other keywords, then heights" : in_quotes(near));
    }
    const int line = words.line();
    Entry entry;
    if (!words.next(entry.text)) break;
    entry.line = words.line();
    std::string number = entry.text;
    if (!is_number(number, entry.value)) throw problem(file, line, key, in_quotes(entry.text), "a number");
    if (!header.emplace(key, entry).second) throw problem(file, line, key, "this keyword twice", "it once");
  }
  word.clear();
  return header;
}

Entry needed(const Header& header, const std::string& key, const std::string& other,
             const std::string& file) {
  for (const std::string& name : {key, other})
    if (const auto found = header.find(name); found != header.end()) return found->second;
  throw problem(file, 0, key, "no such keyword", "one above the heights, such as \"" + key + " 200\"");
}

double size(const Header& header, const std::string& key, const std::string& file) {
  const Entry entry = needed(header, key, key, file);
  if (!(entry.value >= 1) || entry.value > 2e9 || entry.value != std::floor(entry.value) ||
      entry.text.find_first_not_of("+0123456789.") != std::string::npos)
    throw problem(file, entry.line, key, in_quotes(entry.text), "a whole number from 1 on");
  return entry.value;
}

// One of the two along both axes: the raster library passes over a mixture and lays the grid at the origin.
void check_one_origin(const Header& header, const std::string& file) {
  const bool corner = header.count("xllcorner") > 0;
  const std::string other = corner ? "yllcenter" : "yllcorner", fitting = corner ? "yllcorner" : "yllcenter";
  const auto found = header.find(other);
  if (found == header.end() || header.count(fitting) > 0) return;
  throw problem(file, found->second.line, other,
                std::string(corner ? "xllcorner" : "xllcenter") + " above " + other, fitting + " beside it");
}

void check_place(const Header& header, const std::string& axis, double count, const std::string& file) {
  const std::string corner = axis + "llcorner";
  const Entry start = needed(header, corner, axis + "llcenter", file);
  const Entry side = needed(header, header.count("d" + axis) > 0 ? "d" + axis : "cellsize", "cellsize", file);
  if (!std::isfinite(start.value) || std::abs(start.value) > 1e12)
    throw problem(file, start.line, corner, in_quotes(start.text), "a coordinate");
  if (!std::isfinite(side.value) || !(side.value > 0) || side.value * count > 1e12)
    throw problem(file, side.line, header.count("d" + axis) > 0 ? "d" + axis : "cellsize",
                  in_quotes(side.text), "the side of a cell, above zero");
  if (start.value + side.value == start.value)
    throw problem(file, side.line, "cellsize", in_quotes(side.text),
                  "cells that coordinates such as " + start.text + " can tell apart");
}

std::string whole(double count) {
  return std::to_string(static_cast<long long>(count));
}

std::string count_text(double columns, double rows) {
  return whole(columns) + " columns by " + whole(rows) + " rows";
}

} // namespace

bool is_ascii_grid(const std::filesystem::path& path) {
  Words words(path);
  std::string word;
  return words.next(word) && std::find(keywords.begin(), keywords.end(), lower(word)) != keywords.end();
}

void check_ascii_grid(const std::filesystem::path& path) {
  const std::string file = path.string();
  Words words(path);
  std::string word;
  const Header header = read_header(words, word, file);
  const double columns = size(header, "ncols", file), rows = size(header, "nrows", file);
  check_place(header, "x", columns, file);
  check_place(header, "y", rows, file);
  check_one_origin(header, file);
  // A height and what parts it from the next take two bytes at least: told from the file's size alone.
  std::error_code unknown;
  const auto bytes = std::filesystem::file_size(path, unknown);
  if (!unknown && 2 * columns * rows - 1 > static_cast<double>(bytes))
    throw problem(file, 0, "", "a file of " + std::to_string(bytes) + " bytes",
                  count_text(columns, rows) + " as its first lines say, which take " +
                      whole(2 * columns * rows) + " bytes at least");
  double heights = 0, height = 0;
  for (bool more = !word.empty(); more; more = words.next(word), ++heights)
    if (!is_number(word, height)) throw problem(file, words.line(), "", in_quotes(word), "a height");
  if (heights != columns * rows)
    throw problem(file, words.line(), "", whole(heights) + " heights",
                  whole(columns * rows) + ", " + count_text(columns, rows));
}

} // namespace lowspot::gis
