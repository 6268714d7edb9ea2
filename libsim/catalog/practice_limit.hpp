// A figure that works are held against, from a code or from practice.
#pragma once
#include <limits>
#include <string>

namespace lowspot::catalog {

// Where the figures of a row come from and how far they can be trusted.
struct RowSource {
  std::string source; // where the figures come from
  std::string mark;   // V seen in the source, M from memory, C computed, default: chosen inside the range
};

// What a limit measures.
enum class LimitKind {
  length,   // m
  velocity, // m/s
  slope,    // m/m
  share,    // 0..1
  time,     // s
  multiple  // of what the meaning says
};

// One figure that works must not exceed, or not fall below.
struct PracticeLimit {
  std::string name;                                        // "pipe_cover", the key under [limits]
  LimitKind kind = LimitKind::length;                      // what `value` measures
  double value = std::numeric_limits<double>::quiet_NaN(); // SI; not a number: no general figure, ask
  std::string written;                                     // as a person writes it; empty where none is known
  bool at_least = true;                                    // otherwise: at most
  std::string meaning;                                     // what the figure is of, in words
  RowSource from;                                          // mark "town" where the site file gives the figure
};

// Reads "6 in", "1.4 ft/s", "2 %" or "12" as the kind asks. Not a number where the text cannot be read so;
// then `problem`, when given, says why.
double read_limit(LimitKind kind, const std::string& text, std::string* problem = nullptr);
// An example that can be read, in quotes, for messages.
std::string limit_example(LimitKind kind);

} // namespace lowspot::catalog
