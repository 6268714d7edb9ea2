// Pages that print on one sheet each, for the crew, the owner and the permit desk: what they share.
#pragma once
#include <string>
#include <vector>

#include <lowspot/job/cut_sheet.hpp>
#include <lowspot/job/takeoff.hpp>
#include <lowspot/report/html.hpp>
#include <lowspot/report/map_panel.hpp>

namespace lowspot::report {

// What the sheets show.
struct SheetScene {
  MapScene map;                       // site, comparison, units
  const terrain::Ground& ground;      // as it is
  const results::DesignRecord& as_is; // the yard without works
  // What is proposed; all null when the site file proposes nothing.
  const results::DesignRecord* built = nullptr;
  const site::Design* design = nullptr;  // as the site file describes it
  const job::CutSheet* cut = nullptr;    // what to dig
  const job::Takeoff* takeoff = nullptr; // what to order

  const site::Site& site() const { return map.site; }
  const results::Comparison& comparison() const { return map.comparison; }
  const Units& units() const { return map.units; }
};

// The design that the sheets are about, as its place in Comparison::designs: the one the verdict names, or
// the first that is proposed; 0, the yard as it is, when none is.
std::size_t sheet_design(const results::Comparison& comparison);

// A page that prints on one sheet, letter and A4 alike, as long as its lists keep to their lengths;
// `tight`: in small type, for the longest lists.
std::string sheet_html(const SheetScene& scene, const std::string& title, const std::string& body,
                       bool tight = false);

// A name that must not break the page: at most so many letters and an ellipsis. It is cut between words where
// one ends in the last two thirds, else between letters, of any alphabet.
std::string short_name(const std::string& name, std::size_t most = 40);
// With a capital at its beginning, where that is a small letter of the English alphabet.
std::string sentence_case(std::string phrase);
// With a full stop, unless it was cut and ends in an ellipsis.
std::string as_sentence(const std::string& text);
// As many whole sentences of a text as fit in so many letters; a first one that is longer is cut.
std::string whole_sentences(const std::string& text, std::size_t most);
// A line to write on: what goes there, and room for it.
std::string blank(const std::string& name);
// "and 3 more: see report.html".
std::string and_more(std::size_t left, const std::string& page);
// The first items, and as the last of `most` how many more stand on a page that has them all.
std::vector<std::string> at_most(std::vector<std::string> items, std::size_t most,
                                 const std::string& page = "report.html");
// Likewise the first rows of a table.
void keep_rows(Table& table, std::size_t most, const std::string& page = "report.html");
std::string part(const std::string& title, const std::string& html); // a heading and what it is about

} // namespace lowspot::report
