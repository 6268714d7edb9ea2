#include <lowspot/base/error.hpp>

#include <utility>

namespace lowspot {
namespace {
std::string sentence(const Where& where, const std::string& found, const std::string& expected,
                     const std::string& mend) {
  std::string text = where.file;
  if (where.line > 0) text += ":" + std::to_string(where.line);
  if (!where.key.empty()) text += (text.empty() ? "" : ": ") + where.key;
  if (!text.empty()) text += ": ";
  text += "found " + found;
  if (!expected.empty()) text += ", expected " + expected;
  text += ".";
  if (!mend.empty()) text += "\n  To mend it: " + mend;
  return text;
}
} // namespace

InputError::InputError(Where where_, std::string found_, std::string expected_, std::string mend_)
    : std::runtime_error(sentence(where_, found_, expected_, mend_)), where(std::move(where_)),
      found(std::move(found_)), expected(std::move(expected_)), mend(std::move(mend_)) {}

} // namespace lowspot
