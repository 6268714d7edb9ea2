// A map of where the water comes from: in every wet cell the source that gave most of its deepest water.
#pragma once
#include <cairo.h>

#include <lowspot/report/map_panel.hpp>
#include <lowspot/report/paint.hpp>

namespace lowspot::report {

// The largest source of each cell, as a place in record.shares.sources; -1 where water never stood deeper
// than `depth` [m] or the ground is not active.
std::vector<int> largest_source(const results::DesignRecord& record, const Mask& active, double depth);

// For a design whose sources were followed.
Size shares_map_size(const MapScene& scene, const results::DesignRecord& record);
void draw_shares_map(cairo_t* context, const MapScene& scene, const results::DesignRecord& record);

} // namespace lowspot::report
