// A sheet of maps: one row a quantity, one column a design, all on one scale.
#pragma once
#include <vector>

#include <lowspot/report/map_quantity.hpp>
#include <lowspot/report/paint.hpp>

namespace lowspot::report {

// The designs that are shown as columns, as places in Comparison::designs: the yard as it is, the one the
// verdict names and others in order, at most four.
std::vector<std::size_t> shown_designs(const results::Comparison& comparison);

// Size of the sheet [points] for these rows.
Size map_sheet_size(const MapScene& scene, const std::vector<MapQuantity>& rows);
// Draws the sheet with its top left corner at the origin; the same for PNG and PDF.
void draw_map_sheet(cairo_t* context, const MapScene& scene, const std::vector<MapQuantity>& rows);

} // namespace lowspot::report
