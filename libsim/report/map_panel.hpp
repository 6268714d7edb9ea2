// One panel of a map: the yard with water, outlines, works and names.
#pragma once
#include <lowspot/report/map_view.hpp>
#include <lowspot/report/scale.hpp>
#include <lowspot/results/record.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::report {

// What panels are drawn from.
struct MapScene {
  const site::Site& site;                // with its outlines
  const results::Comparison& comparison; // with its runs
  Units units;                           // of the site
};

// Shaded ground with thin contours: that of the yard, or as the works of a design leave it.
void draw_ground(cairo_t* context, const MapView& view, const MapScene& scene,
                 const results::DesignRecord* design = nullptr);
// Water in the colours of the scale, with the target as a line.
void draw_water(cairo_t* context, const MapView& view, const MapScene& scene, const Field& field,
                const Scale& scale);
// Outlines of areas, buildings and walls, the works of a design, and names.
// Names keep clear of `keep_clear` where they can.
void draw_outlines(cairo_t* context, const MapView& view, const MapScene& scene,
                   const results::DesignRecord& record, std::vector<Obstacle> keep_clear = {});
// Where a map shows more than its two lowest classes: what names should not cover.
std::vector<Obstacle> wet_places(const MapView& view, const MapScene& scene, const Field& field,
                                 const Scale& scale);
// The ground that draw_ground() shows [m]: that of the yard, or as the works of a design leave it.
const Field& drawn_ground(const results::Comparison& comparison, const results::DesignRecord* design);
// Ground contour step [m] used by draw_ground(); 0 on level ground.
double contour_step(const results::Comparison& comparison, const Units& units);
// Elevations [m] of the contours that draw_ground() draws: a step apart as those of the yard, down into what
// a design digs and up over what it fills.
std::vector<double> contour_levels(const results::Comparison& comparison, const Units& units,
                                   const results::DesignRecord* design = nullptr);

} // namespace lowspot::report
