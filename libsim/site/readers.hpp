// The readers of the site file's tables, in the order read_site() calls them. Each fills its part of the site
// and throws InputError for what cannot be used.
#pragma once
#include <lowspot/site/table_reader.hpp>

namespace lowspot::site {

void read_yard(const TableReader& root, Context& context);        // [site]
void read_ground(const TableReader& root, Context& context);      // [ground]
void read_edges(const TableReader& root, Context& context);       // [edges]
void read_soils(const TableReader& root, Context& context);       // [[soil]]
void read_areas(const TableReader& root, Context& context);       // [[area]]
void read_buildings(const TableReader& root, Context& context);   // [[building]]
void read_walls(const TableReader& root, Context& context);       // [[wall]]
void read_storm(const TableReader& root, Context& context);       // [storm]
void read_season(const TableReader& root, Context& context);      // [season]
void read_target(const TableReader& root, Context& context);      // [target]
void read_gauges(const TableReader& root, Context& context);      // [[gauge]], [[line]]
void read_seen(const TableReader& root, Context& context);        // [[seen]]
void read_designs(const TableReader& root, Context& context);     // [[design]]
void read_ordering(const TableReader& root, Context& context);    // [takeoff], [[rate]]
void read_reach(const TableReader& root, Context& context);       // [reach], [[outlet_candidate]]
void read_limits(const TableReader& root, Context& context);      // [limits]
void read_keep_off(const TableReader& root, Context& context);    // [[keep_off]], [[tree]], [[utility]]
void read_run_options(const TableReader& root, Context& context); // [run]
void read_tune(const TableReader& root, Context& context);        // [tune]

} // namespace lowspot::site
