// Reduction of a rod book.
#pragma once
#include <optional>
#include <string>

#include <lowspot/base/csv.hpp>
#include <lowspot/terrain/levels.hpp>

namespace lowspot::terrain {

// Height of instrument = known elevation + backsight; elevation = height of instrument - reading. A row with
// a foresight and a backsight (or the same point in two rows) is a turning point. Known points are the first
// backsight's, those with an elevation, and those with a note like "BM 100.00"; one that is shot again closes
// the loop, whose misclosure is spread evenly over its set-ups: a sighting from set-up k of n moves by k/n of
// it. A backsight on a known point begins afresh: what was read before it is not moved by a later closure.
// Appends to the book's shots, sightings, closures, warnings and assumptions. Throws InputError for a reading
// that is no number or negative, a reading before any backsight, a backsight on a point of unknown elevation,
// two different readings in one row that do not go together, or a row with none.
void reduce_rod_book(const CsvTable& table, const LevelUnits& units, LevelBook& book);

// The elevation in a note such as "BM 100.00" or "benchmark = 98.5, door sill", in the units of the book. A
// whole number without "="
// ("BM 100") counts in a row with a backsight only: elsewhere "beside BM 2" names a point.
std::optional<double> benchmark_in_note(const std::string& note, bool backsight);

} // namespace lowspot::terrain
