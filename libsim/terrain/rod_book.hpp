// Reduction of a rod book.
#pragma once
#include <lowspot/base/csv.hpp>
#include <lowspot/terrain/levels.hpp>

namespace lowspot::terrain {

// Height of instrument = known elevation + backsight; elevation = height of instrument - reading. A row with
// a foresight and a backsight (or the same point in two rows) is a turning point. Known points are the first
// backsight's, those with an elevation, and those with a note like "BM 100.00", by the name of their point,
// or of the note in a row with a backsight or of a benchmark; one that is shot again closes the loop, whose
// misclosure is spread evenly over its set-ups: a sighting from set-up k of n moves by k/n of it. A backsight
// on a known point begins afresh: what was read before it is not moved by a later closure. Appends to the
// book's shots, sightings, closures, warnings and assumptions. Throws InputError for a reading that is no
// number or negative, a reading before any backsight, a backsight on a point of unknown elevation, two
// different readings in one row that do not go together, or a row with none.
void reduce_rod_book(const CsvTable& table, const LevelUnits& units, LevelBook& book);

} // namespace lowspot::terrain
