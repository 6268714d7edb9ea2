// Text into markup, safely, and tables made of it.
#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace lowspot::report {

// Every character that could end text or an attribute is written as an entity; control characters are
// dropped.
std::string escape(std::string_view text);
// JSON made safe to stand inside a script element.
std::string escape_json(std::string json);
std::string base64(std::string_view bytes);
// The source of an image that travels inside the page.
std::string png_source(std::string_view bytes);

// A table: the first column is a row head, the others are figures set flush right unless named as text.
struct Table {
  std::string caption;                        // plain text
  std::vector<std::string> head;              // plain text
  std::vector<std::vector<std::string>> rows; // plain text, escaped when written
  std::vector<std::size_t> text_columns;      // set flush left
  bool only_screen = false;                   // too long for paper: left out when printed
  std::vector<std::size_t> screen_rows{};     // rows that paper leaves out
};
// A table, a paragraph, a list as markup.
std::string table_html(const Table& table);
std::string paragraph(std::string_view text); // plain text
// A measure or name that no line may part: 1' 8 1/2", 100-year.
std::string unbroken(std::string text);
std::string list(const std::vector<std::string>& items);

} // namespace lowspot::report
