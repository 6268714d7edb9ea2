#include <lowspot/report/report_page.hpp>

#include <lowspot/report/html.hpp>
#include <lowspot/report/page_script.hpp>
#include <lowspot/report/page_style.hpp>
#include <lowspot/report/sections.hpp>
#include <lowspot/report/storm_words.hpp>
#include <lowspot/report/swipe_script.hpp>

namespace lowspot::report {
namespace {

struct Written {
  const Section* section = nullptr;
  std::string html;
};

std::string head(const Page& page) {
  std::string html =
      "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src data:; "
      "style-src 'unsafe-inline'; script-src 'unsafe-inline'; base-uri 'none'; form-action 'none'\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
      "<meta name=\"generator\" content=\"lowspot ";
  html += escape(page.comparison().version) +
          "\">\n<title>Standing water: " + escape(page.comparison().site_name);
  return html + "</title>\n<style>" + page_style(page.units().metric) + "</style>\n</head>\n";
}

std::string storm_line(const Page& page) {
  const results::Comparison& all = page.comparison();
  return "Storm: " + storm_words(page.site(), all, page.units()) +
         later_storms_words(page.site(), page.units()) + ", at most " +
         amount(all.storm_peak_intensity, page.units().rain) + ". Water on the ground by the " + all.method +
         " method, computed by lowspot " + all.version + ".";
}

// The pages that print on one sheet each stand beside this one; a crew's only where something is proposed.
std::string sheets_line(const Page& page) {
  std::string html = "<p class=\"quiet only-screen\">To print, a page each, beside this file: ";
  if (page.comparison().designs.size() > 1) html += "<a href=\"crew.html\">for the crew</a>, ";
  return html + "<a href=\"homeowner.html\">for the owner</a>, <a href=\"permit.html\">for the permit "
                "desk</a>.</p>\n";
}

std::string contents(const std::vector<Written>& written) {
  std::string html = "<nav aria-label=\"Contents\"><ul>\n";
  for (const Written& each : written)
    if (!each.section->title.empty())
      html += "<li><a href=\"#" + each.section->id + "\">" + escape(each.section->title) + "</a></li>\n";
  return html + "</ul></nav>\n";
}

std::string block(const Written& each) {
  const std::string& id = each.section->id;
  std::string html = each.section->on_paper ? "<section id=\"" : "<section class=\"only-screen\" id=\"";
  html += id + "\"";
  if (each.section->title.empty()) return html + ">\n" + each.html + "</section>\n";
  return html + " aria-labelledby=\"" + id + "-title\"><h3 id=\"" + id + "-title\">" +
         escape(each.section->title) + "</h3>\n" + each.html + "</section>\n";
}

// What paper leaves out, by name.
std::string left_out(const std::vector<Written>& written) {
  std::string names;
  for (const Written& each : written)
    if (!each.section->on_paper) names += (names.empty() ? "" : "; ") + each.section->title;
  return names.empty() ? ""
                       : "<p class=\"quiet only-paper\">Not printed, but in report.html: " + escape(names) +
                             "; long tables.</p>\n";
}

} // namespace

std::string report_html(const Page& page) {
  std::vector<Written> written;
  for (const Section& each : sections()) {
    std::string html = each.html(page);
    if (!html.empty()) written.push_back({&each, std::move(html)});
  }
  std::string html = head(page) +
                     "<body>\n<header><h1>Standing water: " + escape(page.comparison().site_name) +
                     "</h1>\n<p class=\"quiet\">" + escape(storm_line(page)) + "</p>\n" + sheets_line(page) +
                     left_out(written) + "</header>\n<main>\n";
  const Section* before = nullptr;
  for (const Written& each : written) {
    if (before == nullptr || before->reader != each.section->reader)
      html += std::string("<h2") + (before == nullptr ? " class=\"first\"" : "") + ">" +
              escape(reader_title(each.section->reader)) + "</h2>\n";
    html += block(each);
    if (before == nullptr) html += contents(written); // the answer stands before the list of what follows
    before = each.section;
  }
  html += "</main>\n<footer class=\"quiet\"><p>A planning aid made by lowspot " +
          escape(page.comparison().version) +
          ": not a survey, not an engineer's certification, not a guarantee. Local code "
          "governs.</p></footer>\n<script>";
  html += page_script();
  html += swipe_script();
  return html + "</script>\n</body>\n</html>\n";
}

} // namespace lowspot::report
