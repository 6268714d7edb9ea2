// Breaklines as edges between the points of a survey.
#pragma once
#include <array>
#include <string>
#include <vector>

#include <lowspot/site/site.hpp>
#include <lowspot/terrain/survey.hpp>

namespace lowspot::terrain {

// Makes the edges of `survey` meet at points only: an edge that passes within 1 cm of a point is led over it,
// and where two cross a point is added with the mean of their elevations. A shot rules over the line that
// passes it. Warns where what meets differs by more than 5 cm.
void join_edges(Survey& survey, const site::Site& site);

// The survey with points along its edges no further apart than `spacing` [m], elevations linear between
// corners.
Survey densified(const Survey& survey, double spacing);

// Whether the straight line between two places crosses an edge of the survey (touching is not crossing).
bool parted_by_edge(const Survey& survey, const Point3& a, const Point3& b);

} // namespace lowspot::terrain
