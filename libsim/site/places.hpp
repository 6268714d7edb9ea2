// Where things lie with respect to the yard's outline.
#pragma once
#include <lowspot/site/table_reader.hpp>

namespace lowspot::site {

constexpr double on_the_limit = 1e-6; // m: a point this near the outline lies on it

// Whether a place lies inside, or nearer than on_the_limit to the outline.
bool inside_or_on(const Polygon& outline, const Point& place);
// Whether a whole line stays inside, or nearer than on_the_limit to the outline.
bool stays_inside(const Polygon& outline, const Polyline& line);
// Area that two simple polygons share [m2], exact to round-off.
double shared_area(const Polygon& a, const Polygon& b);
// True when the points lie on one line, so that no plane goes through them.
bool in_one_line(const std::vector<Point3>& shots);

// Throws InputError when a place, or any part of a line, lies outside the yard.
void require_inside(const TableReader& table, const std::string& key, const Point& place);
void require_inside(const TableReader& table, const std::string& key, const Polyline& line);
// Throws when a shape lies wholly outside the yard; warns when part of it does.
void require_shared(const TableReader& table, const Polygon& shape, const std::string& consequence);

} // namespace lowspot::site
