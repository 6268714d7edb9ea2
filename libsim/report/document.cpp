#include <lowspot/report/document.hpp>

#include <lowspot/report/html.hpp>
#include <lowspot/report/page_style.hpp>

namespace lowspot::report {

std::string footer_html(const std::string& version) {
  return "<footer class=\"quiet\"><p>A planning aid made by lowspot " + escape(version) +
         ": not a survey, not an engineer's certification, not a guarantee. Local code "
         "governs.</p></footer>\n";
}

std::string document_html(const Document& document) {
  std::string html =
      "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src data:; "
      "style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>" +
      escape(document.title) + "</title>\n<style>" + page_style(document.metric) + document.style +
      "</style>\n</head>\n<body>\n<header><h1>" + escape(document.title) + "</h1></header>\n<main>\n";
  return html + document.body + "</main>\n" + footer_html(document.version) + "</body>\n</html>\n";
}

} // namespace lowspot::report
