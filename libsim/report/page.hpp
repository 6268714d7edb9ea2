// What the sections of the report are made from.
#pragma once
#include <string>
#include <vector>

#include <lowspot/report/html.hpp>
#include <lowspot/report/map_panel.hpp>
#include <lowspot/report/write_maps.hpp>
#include <lowspot/study/diagnosis.hpp>

namespace lowspot::report {

// What is known where a section is written.
struct Page {
  MapScene scene;                              // site, comparison, units
  const MapPictures& pictures;                 // of the whole report
  const study::Diagnosis* diagnosis = nullptr; // of the yard as it is; null when none was made

  const site::Site& site() const { return scene.site; }
  const results::Comparison& comparison() const { return scene.comparison; }
  const Units& units() const { return scene.units; }
};

// The design that paper is about, as the sheets are (sheet_design): the one that the verdict names, or the
// first that is proposed where that is the yard as it is. Empty where the verdict names none that was run.
std::string design_on_paper(const Page& page);

// Leaves out of print the rows of a table whose `column` names a design that is neither the yard as it is nor
// the one that paper is about. Nothing is left out where there is none.
void shorten_on_paper(const Page& page, std::size_t column, Table& table);

// Colour class of a design in charts: 0 the yard as it is.
int series_class(std::size_t design);

} // namespace lowspot::report
