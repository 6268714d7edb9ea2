// The figures of a run as one line of text, for journals and for runs done by other processes.
#pragma once
#include <string>

#include <lowspot/results/record.hpp>

namespace lowspot::study {

// JSON on one line: name, books, areas, lines, edges, drains, beds and season. Maps and series are left out;
// of the map of standing hours the wettest spot stays (results::wettest_spot_hours()). Numbers read back as
// they were. end_of_rain: s.
std::string record_text(const results::DesignRecord& record, double end_of_rain);
// The reverse. Throws std::runtime_error for text that record_text() did not write.
results::DesignRecord record_from(const std::string& text);

} // namespace lowspot::study
