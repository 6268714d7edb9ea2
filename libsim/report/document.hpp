// A page that stands alone: one file, no network, in the report's look.
#pragma once
#include <string>

namespace lowspot::report {

// What one page holds.
struct Document {
  std::string title;   // plain text
  std::string body;    // markup
  std::string version; // of the program
  bool metric = false; // paper size: A4 or letter
  std::string style;   // more rules, after the common ones
};
// The whole page, offline: style and script inside.
std::string document_html(const Document& document);

// What stands at the foot of every page.
std::string footer_html(const std::string& version);

} // namespace lowspot::report
