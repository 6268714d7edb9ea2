// The drains of a design on a map: pipes with the way they fall, fittings, outlets.
#pragma once
#include <lowspot/report/map_view.hpp>
#include <lowspot/report/units.hpp>
#include <lowspot/results/record.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::report {

// The works that go with a recorded design; null for the yard as it is.
const site::Design* works_of(const site::Site& site, const results::DesignRecord& record);

// Fall of a run where it falls least [m/m], which is what its full pipe is reckoned with: between the
// stations of its profile when one was recorded, otherwise as designed.
double fall_of(const site::Run& run, const results::DesignRecord& record);
// "west leg: 3 in slotted, falls 1 %".
std::string run_text(const site::Run& run, const results::DesignRecord& record, const Units& units);
// "4 in": as the catalogue names the pipe; by its inside diameter where it has figures of its own.
std::string pipe_size_text(const site::PipeChoice& pipe, const Units& units);

// Trenches, carriers, fittings and outlets of a design.
void draw_works(cairo_t* context, const MapView& view, const site::Design& design);
// A name wider than this share of the drawing gives way to a shorter one where there is one, or is cut; size
// is set.
void fit_in_width(cairo_t* context, const MapView& view, const std::string& shorter, Label& label,
                  double share = 1);
// Names of runs and outlets with places for them, and what names should keep clear of.
void label_works(cairo_t* context, const MapView& view, const site::Design& design,
                 const results::DesignRecord& record, const Units& units, std::vector<Label>& labels,
                 std::vector<Obstacle>& obstacles);

} // namespace lowspot::report
