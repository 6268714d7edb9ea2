#include <lowspot/report/html.hpp>

#include <algorithm>
#include <array>
#include <cstdint>
#include <utility>

namespace lowspot::report {

std::string escape(std::string_view text) {
  std::string safe;
  safe.reserve(text.size());
  for (const char letter : text) {
    switch (letter) {
    case '&':
      safe += "&amp;";
      break;
    case '<':
      safe += "&lt;";
      break;
    case '>':
      safe += "&gt;";
      break;
    case '"':
      safe += "&quot;";
      break;
    case '\'':
      safe += "&#39;";
      break;
    default:
      if (static_cast<unsigned char>(letter) >= 32 || letter == '\n' || letter == '\t') safe += letter;
    }
  }
  return safe;
}

std::string escape_json(std::string json) {
  // Inside a string "\u003c" is the same letter, and the parser of the page never sees "</script" or "<!--".
  for (auto at = json.find('<'); at != std::string::npos; at = json.find('<', at))
    json.replace(at, 1, "\\u003c");
  return json;
}

std::string base64(std::string_view bytes) {
  constexpr std::string_view letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string text;
  text.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t at = 0; at < bytes.size(); at += 3) {
    const std::size_t count = std::min<std::size_t>(3, bytes.size() - at);
    std::uint32_t group = 0;
    for (std::size_t k = 0; k < 3; ++k)
      group = group << 8 | (k < count ? static_cast<std::uint8_t>(bytes[at + k]) : 0u);
    for (std::size_t k = 0; k < 4; ++k) text += k <= count ? letters[group >> (18 - 6 * k) & 63u] : '=';
  }
  return text;
}

std::string png_source(std::string_view bytes) {
  return "data:image/png;base64," + base64(bytes);
}

namespace {
// Letters of a text, and of a name, that want a wider column on a phone.
constexpr std::size_t long_text = 40, long_name = 12;
} // namespace

std::string table_html(const Table& table) {
  const auto kind = [&](std::size_t column, std::size_t letters = 0) {
    const bool text = column == 0 || std::find(table.text_columns.begin(), table.text_columns.end(),
                                               column) != table.text_columns.end();
    if (!text) return " class=\"n\"";
    return letters > long_text ? " class=\"long\"" : letters > long_name ? " class=\"name\"" : "";
  };
  std::string html = table.only_screen ? "<div class=\"scroll only-screen\"" : "<div class=\"scroll\"";
  html += " tabindex=\"0\" role=\"group\" aria-label=\"";
  html += escape(table.caption) + "\"><table><caption>" + escape(table.caption) + "</caption><thead><tr>";
  for (std::size_t k = 0; k < table.head.size(); ++k)
    html.append("<th scope=\"col\"")
        .append(kind(k))
        .append(">")
        .append(escape(table.head[k]))
        .append("</th>");
  html += "</tr></thead><tbody>\n";
  for (std::size_t r = 0; r < table.rows.size(); ++r) {
    const auto& row = table.rows[r];
    const bool on_paper =
        std::find(table.screen_rows.begin(), table.screen_rows.end(), r) == table.screen_rows.end();
    html += on_paper ? "<tr>" : "<tr class=\"only-screen\">";
    for (std::size_t k = 0; k < row.size(); ++k) {
      const char* element = k == 0 ? "th" : "td";
      const char* head = row[0].size() > long_name ? " scope=\"row\" class=\"name\"" : " scope=\"row\"";
      html.append("<").append(element).append(k == 0 ? head : kind(k, row[k].size())).append(">");
      html.append(escape(row[k])).append("</").append(element).append(">");
    }
    html += "</tr>\n";
  }
  return html + "</tbody></table></div>\n";
}

std::string paragraph(std::string_view text) {
  std::string html = "<p>";
  return html.append(escape(text)).append("</p>\n");
}

std::string unbroken(std::string text) {
  for (const auto& [sign, held] : {std::pair{' ', "\u00a0"}, std::pair{'-', "\u2011"}})
    for (std::size_t at = text.find(sign); at != std::string::npos; at = text.find(sign, at + 1))
      text.replace(at, 1, held);
  return text;
}

std::string list(const std::vector<std::string>& items) {
  std::string html = "<ul>\n";
  for (const std::string& item : items) html.append("<li>").append(escape(item)).append("</li>\n");
  return html + "</ul>\n";
}

} // namespace lowspot::report
