// The sections of the report, in order. To add one: write section_NAME.cpp and add its row in sections.cpp.
#pragma once
#include <string>
#include <vector>

#include <lowspot/report/page.hpp>

namespace lowspot::report {

// Who a section is written for; each begins a printed page of its own.
enum class Reader { owner, crew, permit_desk };

// One section of the report.
struct Section {
  std::string id;                             // by which section() finds it
  std::string title;                          // empty: it stands without a heading
  Reader reader = Reader::owner;              // for whom it is meant
  std::string (*html)(const Page&) = nullptr; // an empty text leaves the section out
  bool on_paper = true;                       // false: on the screen alone, the print names it
};
// In the order in which they stand in the report.
const std::vector<Section>& sections();
// The section with this id. Throws std::out_of_range.
const Section& section(const std::string& id);
std::string reader_title(Reader reader);

} // namespace lowspot::report
