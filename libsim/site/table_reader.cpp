#include <lowspot/site/table_reader.hpp>

#include <algorithm>
#include <cmath>
#include <iterator>

#include <lowspot/base/limits.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/base/utf8.hpp>

namespace lowspot::site {
namespace {
const toml::table& empty_table() {
  static const toml::table empty;
  return empty;
}
int line_of(const toml::source_region& region) {
  return static_cast<int>(region.begin.line);
}
} // namespace

std::string shown(const toml::node& node) {
  if (const auto* value = node.as_string()) return "\"" + value->get() + "\"";
  if (const auto* value = node.as_integer()) return std::to_string(value->get());
  if (const auto* value = node.as_floating_point()) return number_text(value->get());
  if (const auto* value = node.as_boolean()) return value->get() ? "true" : "false";
  if (const auto* value = node.as_array()) return "a list of " + std::to_string(value->size());
  if (node.is_table()) return "a table";
  return "a date or time";
}

TableReader::TableReader(const toml::table& table, std::string path, Context& context)
    : table_(&table), path_(std::move(path)), context_(&context) {}

bool TableReader::has(const std::string& key) const {
  return find(key) != nullptr;
}
bool TableReader::is_table(const std::string& key) const {
  const toml::node* node = find(key);
  return node && node->is_table();
}
bool TableReader::is_array(const std::string& key) const {
  const toml::node* node = find(key);
  return node && node->is_array();
}

const toml::node* TableReader::find(const std::string& key) const {
  if (std::find(asked_.begin(), asked_.end(), key) == asked_.end()) asked_.push_back(key);
  return table_->get(key);
}

const toml::node& TableReader::required(const std::string& key, const std::string& expected) const {
  if (const toml::node* node = find(key)) return *node;
  std::vector<std::string> strangers;
  for (const auto& [name, node] : *table_) {
    const std::string text(name.str());
    if (std::find(asked_.begin(), asked_.end(), text) == asked_.end()) strangers.push_back(text);
  }
  std::string near = nearest(key, strangers), meant = key;
  if (near.empty()) { // another key that would have done
    std::vector<std::string> absent;
    std::copy_if(asked_.begin(), asked_.end(), std::back_inserter(absent),
                 [&](const std::string& one) { return !table_->contains(one); });
    for (const std::string& stranger : strangers)
      if (const std::string other = nearest(stranger, absent); near.empty() && !other.empty())
        near = stranger, meant = other;
  }
  const std::string mend = near.empty() ? "Add `" + key + " = ...` to this table."
                                        : "Is `" + near + "` meant to be `" + meant + "`?";
  // The line of the word that was meant, not of the heading above it.
  const int at = near.empty() ? line() : line_of(table_->get(near)->source());
  throw InputError({context_->file, at, path(key)}, "nothing", expected, mend);
}

int TableReader::line() const {
  return line_of(table_->source());
}

Where TableReader::where(const std::string& key) const {
  if (key.empty()) return {context_->file, line(), path_};
  const toml::node* node = table_->get(key);
  return {context_->file, node ? line_of(node->source()) : line(), path(key)};
}

std::string TableReader::path(const std::string& key) const {
  if (key.empty()) return path_;
  return path_.empty() ? key : path_ + "." + key;
}

std::string TableReader::text(const std::string& key, const std::string& expected) const {
  const toml::node& node = required(key, expected);
  const auto* value = node.as_string();
  if (!value) fail(key, shown(node), expected, "Write it in quotes: " + key + " = \"...\".");
  constexpr std::size_t longest = 1000;
  if (value->get().size() > longest)
    fail(key, "a text of " + std::to_string(value->get().size()) + " letters",
         "at most " + std::to_string(longest), "Shorten it; pages and tables have no room for more.");
  std::string trimmed = trim(value->get());
  for (char& letter : trimmed) {
    if (letter == '\n' || letter == '\r' || letter == '\t') letter = ' ';
    if (static_cast<unsigned char>(letter) < ' ' || letter == 0x7F)
      fail(key, "a control character in " + shown(node), "plain text", "Type the text anew.");
  }
  if (trimmed.empty())
    fail(key, "empty text", expected, "Fill it in, or leave the line out where a default will do.");
  return trimmed;
}

std::optional<std::string> TableReader::maybe_text(const std::string& key) const {
  if (!has(key)) return std::nullopt;
  return text(key);
}

std::string TableReader::word(const std::string& key, const std::vector<std::string>& words) const {
  std::string all;
  for (const std::string& one : words) all += (all.empty() ? "\"" : ", \"") + one + "\"";
  const std::string given = text(key, "one of " + all);
  const std::string lowered = lower(given);
  if (std::find(words.begin(), words.end(), lowered) != words.end()) return lowered;
  const std::string near = nearest(lowered, words);
  fail(key, "\"" + given + "\"", "one of " + all,
       near.empty() ? "Write one of these words." : "Did you mean \"" + near + "\"?");
}

std::optional<bool> TableReader::maybe_flag(const std::string& key) const {
  const toml::node* node = find(key);
  if (!node) return std::nullopt;
  const auto* value = node->as_boolean();
  if (!value) fail(key, shown(*node), "true or false", "Write " + key + " = true, without quotes.");
  return value->get();
}

std::optional<TableReader> TableReader::table(const std::string& key) const {
  const toml::node* node = find(key);
  if (!node) return std::nullopt;
  const auto* inner = node->as_table();
  if (inner) return TableReader(*inner, path(key), *context_);
  const bool repeated =
      node->is_array() && !node->as_array()->empty() && node->as_array()->front().is_table();
  fail(key, repeated ? "several tables" : shown(*node), "one table",
       repeated ? "Write [" + path(key) + "] once, with single brackets."
                : "Write " + key + " = { ... } or a heading [" + path(key) + "].");
}

TableReader TableReader::table_or_empty(const std::string& key) const {
  if (auto inner = table(key)) return *inner;
  return TableReader(empty_table(), path(key), *context_);
}

std::vector<TableReader> TableReader::tables(const std::string& key) const {
  std::vector<TableReader> all;
  const toml::node* node = find(key);
  if (!node) return all;
  const auto* array = node->as_array();
  const std::string heading = path_.empty() ? key : path_.substr(0, path_.find('[')) + "." + key;
  const std::string mend = "Write the heading with double brackets, [[" + heading + "]], once for each.";
  if (!array) fail(key, shown(*node), "a list of tables", mend);
  if (array->size() > limits::list_entries)
    fail(key, std::to_string(array->size()) + " entries", "at most " + std::to_string(limits::list_entries),
         "Leave out what makes no difference.");
  for (std::size_t k = 0; k < array->size(); ++k) {
    const std::string place = path(key) + "[" + std::to_string(k + 1) + "]";
    const toml::node& entry = *array->get(k);
    const auto* inner = entry.as_table();
    if (!inner)
      throw InputError({context_->file, line_of(entry.source()), place}, shown(entry), "a table", mend);
    all.emplace_back(*inner, place, *context_);
  }
  return all;
}

void TableReader::assume(const std::string& key, const std::string& value) const {
  context_->site.assumptions.push_back({path(key), value, "default"});
}

void TableReader::warn(const std::string& key, const std::string& sentence) const {
  const Where at = where(key);
  std::string text = as_utf8(at.file);
  if (at.line > 0) text.append(":").append(std::to_string(at.line));
  context_->site.warnings.push_back(text + ": " + at.key + ": " + sentence);
}

void TableReader::fail(const std::string& key, const std::string& found, const std::string& expected,
                       const std::string& mend) const {
  throw InputError(where(key), found, expected, mend);
}

void TableReader::done() const {
  for (const auto& [name, node] : *table_) {
    const std::string key(name.str());
    if (std::find(asked_.begin(), asked_.end(), key) != asked_.end()) continue;
    std::string known;
    for (const std::string& one : asked_) known += (known.empty() ? "" : ", ") + one;
    const std::string near = nearest(key, asked_);
    throw InputError({context_->file, line_of(name.source()), path(key)}, "the unknown key `" + key + "`",
                     "one of: " + known,
                     near.empty() ? "Remove the line, or use a key of this list."
                                  : "Did you mean `" + near + "`?");
  }
}

} // namespace lowspot::site
