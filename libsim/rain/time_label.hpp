// Times as the rows of a gauge's record name them.
#pragma once
#include <optional>
#include <string>

namespace lowspot::rain {

// A moment by its date and clock.
struct TimeLabel {
  double seconds = 0; // since the beginning of 1970; with a zone that of Greenwich, without it of the clock
  bool zoned = false; // whether a zone was named
};

// Reads "2024-05-17", "2024-05-17 14:05", "2024-05-17T14:05:30.5", each with AM or PM and with a zone (Z,
// UTC, +02:00) behind it; slashes do for hyphens. Empty where the text is anything else, more behind a date
// included: what is passed over may have been the half of the day.
std::optional<TimeLabel> time_label(const std::string& text);

} // namespace lowspot::rain
